"""What the library and the rooms say in English, said in German and French by a book of phrases.

The library is English and pure; its sentences are strings that outsiders rely on. So nothing in it
changes: a sentence is looked up here when it is shown, on a page, in a picture or in print.
Numbers and names in it are taken over as they stand. A sentence that the book does not know
wholly stays English: never half of it.
"""

from hingeline_app.said.as_typed import AsTyped
from hingeline_app.said.reader import SOURCE, kept_by_language, reading_in, say, says, the_readers_language
from hingeline_app.said.unbroken import unbroken

__all__ = ["SOURCE", "AsTyped", "kept_by_language", "reading_in", "say", "says", "the_readers_language", "unbroken"]
