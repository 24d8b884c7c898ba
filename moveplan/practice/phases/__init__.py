"""The phases of a move, one module each.

Every phase is a function ``add_…(move: Draft)`` that adds tasks and links and may lean on tasks that earlier
phases have added. Words and reasons stand in the wording tables under the same keys.
"""
