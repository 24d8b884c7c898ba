"""The pictures of the page as coordinates: every number is computed here, every mark is drawn by a template.

In all of them time runs down the page, as on a run sheet. Start reading in ``scale.py``.
"""
