"""Videos in: which picture showed each mark where, and when. Nothing here says what it means.

Files
-----
limits           what a video may cost, and how large it may be
confined         how the operating system holds a process to that
container        which kind of file it is, by its content
boxes            whether an MP4 or MOV file is whole, and how many frames it says it has
elements         the same of a Matroska or WebM file
chunks           the same of an AVI file
decoding         from the file's bytes to pictures with their times, strictly
told             what a file's structure says of it
windows          a part of a picture
orientation      how a picture is turned before it is shown
dots             a printed dot followed to a part of a pixel
markers          a printed marker that says its own number
patches          a patch of the picture that somebody pointed at
following        all marks of a recording, picture by picture
still            the first picture, for somebody who points at marks
labels           what a label's QR code says, read off a still photograph
child            the separate process that does all this
messages         what that process may say, and how it is checked
confined_child   that process started, listened to and ended
follow           the door: path and marks in, tracks out; progress, stop, resume
"""
