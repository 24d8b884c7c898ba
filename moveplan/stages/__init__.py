"""The stages of the whole way, a module each; ``pipeline.py`` says in which order.

Start reading in ``reading.py``.
"""
