"""Job files in: text to the library's records. Nothing here computes.

Files
-----
job_text         bytes to a plain dictionary, with everything refused that TOML's own reader lets pass
quantities       how a quantity, an uncertainty or a name stands in a job file
formats          whether a file is made for this command and this version
toml_faults      what a line that is no TOML lacks
shown            how a value and its place are written in a refusal
refusals         what the schema library reports, in our own sentences
weighing_file    a weighing
limits_file      printed rows of approved data
schemas          the JSON Schema of every document
kept_records     where a record is kept when no statement could be made
again            what differs when a kept document is worked out again
"""
