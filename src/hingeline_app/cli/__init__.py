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
explain      hingeline explain
replay       hingeline replay
selftest     hingeline selftest
"""
