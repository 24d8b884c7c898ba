"""The command line: parse, call, print.

One module a verb. Stages are imported inside the commands, so that ``--help`` loads none of them. ``app.py``
is the one place that decides exit statuses.
"""
