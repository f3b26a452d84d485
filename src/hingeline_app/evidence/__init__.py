"""From a kept recording to what it shows: asked, followed, judged, drawn, worked out again. No web here.

kinds      which kind of file it is, by what it begins with
arriving   a large file on its way, in pieces
asked      what was asked of a recording, in a form that is kept
answer     from a file or from followed marks to the answer
marks_text marks as somebody placed them, as a marks file
runs       a video that is followed by a process of its own: started, looked at, stopped, gone on with
runner     that process
changed_rules  which rule changed since a finding was kept
words      what an answer says, in sentences
strip      its picture, which stands alone
series     several kept recordings at several speeds or weights, put together
series_words   what a series says, in sentences
series_views   its picture and its table, as parts of a page
flutter_lines  a tap's modes as lines for a flutter file
replay     a few of its cycles, slowed
views      its pictures, as parts of a page
"""
