"""Long work: done here, by several cores, by workers beside the pages, or by a cluster; always with one answer.

sharing    who works the chunks of a study
cluster    the distributed engine, reached by an address
folder     what a piece of long work leaves in its folder: how far it is, how it ended
inside     the process that does one piece: says how far it is, hears when it is to stop
process    that process, started
ways       started at once by whoever asks, or left to the workers
queue      the job engine: what waits, and who has it
worker     one worker: takes what waits, starts it, takes over from the dead
router     in which database the job engine's tables are made
"""
