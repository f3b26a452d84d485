"""Studies that take a while, asked on a page: how the onset of a model scatters with its uncertain numbers. No web.

runs       started, looked at, stopped, gone on with; what was found
runner     the process that works one
resumed    chunks that were worked before are not worked again
"""
