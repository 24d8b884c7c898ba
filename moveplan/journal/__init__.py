"""What has happened so far: an append-only file of records beside the plan, and what follows from them.

Answers: what was done, measured, dropped and moved; what is next; when will the filter be ripe; what was learnt?
A border like the plan file: text from outside is read and checked here. Knows plan, network and science, never the
engine. Start reading in ``records.py`` (what may be written), ``store.py`` (how it is kept) and ``state.py`` (what
it adds up to).
"""
