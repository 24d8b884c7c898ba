"""What a YAML parser refuses, in the keeper's words."""

from __future__ import annotations

import re

import yaml

from moveplan.planfile.problems import Fault

_TAB = re.compile(" *\t")
_QUOTE_IT = "put the value in quotes"
_SAME_SPACES = "give keys of one block the same number of spaces, and close once what was opened"
_YAML_WORDS = (
    ("cannot start any token", "this character cannot begin a value", _QUOTE_IT),
    ("tab character", "a tab indents this line", "indent with spaces"),
    ("unexpected ':'", "a second colon cannot be read here", _QUOTE_IT),
    ("mapping values are not allowed", "a second colon cannot be read here", _QUOTE_IT),
    (
        "sequence entries are not allowed",
        "an entry of a list cannot stand here",
        "begin it on a line of its own",
    ),
    ("mapping keys are not allowed", "a question mark with a space cannot stand here", _QUOTE_IT),
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
    ("<document start>", "this line does not belong to what stands above", "compare indentation and quotes"),
    ("end of stream", "the file ends inside a quoted text", "close the quotes"),
    ("document separator", "a line of dashes or dots stands inside a quoted text", "close the quotes"),
    ("document indicator", "a line of dashes or dots stands inside a quoted text", "close the quotes"),
    ("<block end>", "the indentation, a brace or a bracket does not fit", _SAME_SPACES),
    ("expected key", "the indentation, a brace or a bracket does not fit", _SAME_SPACES),
    ("expected '-' indicator", "the indentation, a brace or a bracket does not fit", _SAME_SPACES),
    ("node content", "a value is missing, or this character cannot begin one", _QUOTE_IT),
    ("escape", "an escape with a backslash is not known", "use single quotes, or write the backslash twice"),
    ("hexdecimal", "an escape with a backslash is not known", "use single quotes"),
    ("tag", "an exclamation mark cannot begin a value", _QUOTE_IT),
    ("'!'", "an exclamation mark cannot begin a value", _QUOTE_IT),
    ("whitespace or line break", "an exclamation mark cannot begin a value", _QUOTE_IT),
    ("expected ' ', but", "an exclamation mark cannot begin a value", _QUOTE_IT),
    ("URI", "an exclamation mark cannot begin a value", _QUOTE_IT),
    ("alphabetic or numeric", "a star, an ampersand or a percent sign cannot begin a value", _QUOTE_IT),
    ("irective", "a line cannot begin with a percent sign", "take it out"),
    ("non-alphabetical", "a line cannot begin with a percent sign", "take it out"),
    ("YAML document", "a line cannot begin with a percent sign", "take it out"),
    ("digit or '.'", "a line cannot begin with a percent sign", "take it out"),
    ("comment or a line break", "text cannot stand behind | or >", "begin it on the next line"),
    ("comment or line break", "text cannot stand behind | or >", "begin it on the next line"),
    ("indentation", "the indentation of a text under | or > does not fit", "indent the text by two spaces"),
)
"""What a message of the parser holds, in the order they are tried; our words, and what helps."""


def not_yaml(error: yaml.YAMLError, text: str) -> Fault:
    """Word what a YAML parser says.

    Parameters
    ----------
    error : YAMLError
        From libyaml or from the parser in Python.
    text : str
        The text it could not read.
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
        line, (), "this line cannot be read", "compare its colons, quotes and spaces with the others"
    )
