"""The command line: one file a command, each of which parses, makes one call and presents.

A command's page stands beside it (``weigh`` and ``weigh_page``), and so do the words and pictures that only it has.
``main`` names the commands and says what happens when something goes wrong; ``run`` holds what one run has; ``output``
and ``page`` are what every command shows itself by. ``docs/map.md`` lists every file.
"""
