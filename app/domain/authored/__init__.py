"""A scenario while it is written: its tables as plain data, what each field takes, what is still at fault.

A draft's *document* is the same tables and lists as a scenario file, as plain dicts and lists, and may hold
anything that an author typed. `shape` says from the scenario's own classes which fields there are, `entries`
reads and changes documents, `starters` holds what new entries begin with, `faults` names what to mend.
"""
