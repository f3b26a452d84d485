"""Why a control surface is balanced: a model to play with, its answers, its words. No web here.

knobs        what can be moved, and how far
surfaces/    the demonstration surfaces: settings become a flutter model
own_model    a workshop's own flutter file as such a surface (own_wing: a wing with aileron; own_parts: what they share)
state        one state of the page, as text in its address and back
answers      onset at the state and along one knob, its band, the motion at the chosen speed
sentences    what the answers say, and what they leave out
presets      named states with their two sentences
filmed       a filmed trial series beside what is computed
job_file     the state as a file for ``hingeline flutter``: the same numbers
pictures     onset over one knob, and the section as it moves
shown        all of a state together: page, fragment and print say the same
printed      a state, or one of the short sheets (sheets.toml), as one printed side
compiled_way the compiled loops of the flutter room, made once for a server that runs on
"""
