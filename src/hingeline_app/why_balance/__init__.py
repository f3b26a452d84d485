"""Why a control surface is balanced: a model to play with, its answers, its words. No web here.

knobs        what can be moved, and how far
surfaces/    the demonstration surfaces: settings become a flutter model
state        one state of the page, as text in its address and back
answers      onset at the state and along one knob, its band, the motion at the chosen speed
sentences    what the answers say, and what they leave out
presets      named states with their two sentences
job_file     the state as a file for ``hingeline flutter``: the same numbers
"""
