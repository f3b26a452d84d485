"""Files in and out: job files to the library's records, recordings, tables, photographs, calendars.

Job files
---------
job_text         bytes to a plain dictionary, with everything refused that TOML's own reader lets pass
toml_faults      what a line that is no TOML lacks
formats          whether a file is made for this command and this version
job_models       from the bytes to checked tables, for every reader below
quantities       how a quantity, an uncertainty or a name stands in a job file; bare_numbers: hours, counts, days
refusals         what the schema library reports, in our own sentences; shown: how a value and its place are written
…_file           one a kind: weighing, limits, ballast, coating, swing, dynamic, arm, flutter, stick, due, marks
…_tables         what may stand in the larger ones, table by table; flutter_variants: another number in one place
plus_sense       which way the plus of a document points
sheet_words      what a file says for the title block of its sheet
toml_text        plain tables to a job file; due_writing: a due question to one

What else comes in
------------------
recordings       the door of recording_table (CSV) and recording_sound (WAV)
onboarding_file  tables of a workshop that begins; onboarding_columns: what they hold
photograph       looked at by content, bounded, drawn anew

What goes out
-------------
due_calendar     what is due as a calendar file
schemas          the JSON Schema of every document; schemas_of_records: of the commands on a workshop's records
kept_records     where a record is kept when no statement could be made
again            what differs when a kept document is worked out again
"""
