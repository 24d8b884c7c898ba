"""What people get: checklist, calendar, summary, page and data.

Code computes, templates word. Text from the plan is data and is escaped for each target. Start reading in
``outlook.py``, the one value that every output is made from. May import all but the pipeline and the commands.
"""
