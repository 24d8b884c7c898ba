"""What a YAML parser refuses, in the keeper's words."""

from __future__ import annotations

import re

import yaml

from moveplan.planfile.problems import Fault

_TAB = re.compile(" *\t")
_YAML_WORDS = (
    (
        "cannot start any token",
        "this character cannot begin a value",
        "put the value in quotes",
    ),
    ("mapping values are not allowed", "a second colon cannot be read here", "put the value in quotes"),
    ("expected ',' or '}'", "a comma or a closing brace is missing", "close what was opened with a brace"),
    (
        "expected ',' or ']'",
        "a comma or a closing bracket is missing",
        "close what was opened with a bracket",
    ),
    (
        "could not find expected ':'",
        "a colon is missing after a key",
        'write "key: value", with a space after the colon',
    ),
    (
        "expected <document start>",
        "this line does not belong to what stands above",
        "compare indentation and quotes",
    ),
    ("end of stream", "the file ends inside a quoted text", "close the quotes"),
    (
        "expected <block end>",
        "the indentation does not fit",
        "give keys of one block the same number of spaces",
    ),
    ("expected key", "the indentation does not fit", "give keys of one block the same number of spaces"),
    ("escape", "an escape with a backslash is not known", "use single quotes, or write the backslash twice"),
)


def not_yaml(error: yaml.YAMLError, text: str) -> Fault:
    """Word what a YAML parser says.

    Parameters
    ----------
    error : YAMLError
        From libyaml or from the parser in Python. [-]
    text : str
        The text it could not read. [-]
    """
    mark = getattr(error, "problem_mark", None)
    problem = str(getattr(error, "problem", None) or error)
    line = mark.line + 1 if mark else 0
    if mark and _TAB.match(text.splitlines()[mark.line] if mark.line < len(text.splitlines()) else ""):
        return Fault(line, (), "a tab indents this line", "indent with spaces")
    for part, message, remedy in _YAML_WORDS:
        if part in problem:
            return Fault(line, (), message, remedy)
    return Fault(
        line, (), f"this is not YAML ({' '.join(problem.split())})", "compare with the lines around it"
    )
