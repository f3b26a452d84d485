"""The command line: one file a command, each of which parses, makes one call and presents.

Files
-----
main         the command itself, and what happens when something goes wrong
run          what one run of a command holds
output       one JSON document, or a page for people
weigh        hingeline weigh
weigh_page   its page
limits       hingeline limits
limits_page  its page
flutter      hingeline flutter
flutter_page, flutter_words, flutter_plot   its page, the words it shares, its picture
progress     what is being worked on, for who watches
whole_file   a file put in its place whole, or not at all
explain      hingeline explain
replay       hingeline replay
selftest     hingeline selftest
"""
