from __future__ import annotations

import pytest

from moveplan.outputs.wording.escape import clean, escape_markdown, one_line


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Müller 'n' Sons", "Müller 'n' Sons"),
        ("tab\tand\nline", "tab\tand\nline"),
        ("\x00bell\x07\x1b[31m", "bell[31m"),
        ("a\r\nb\rc\x0bd\x0ce\x85f\u2028g\u2029h", "a\nb\nc\nd\ne\nf\ng\nh"),
        ("\ufeffmark \ud800 lone", "mark \N{REPLACEMENT CHARACTER} lone"),
        ("Ines\u202e txt.exe", "Ines txt.exe"),
        ("שלום\u200f!", "שלום\u200f!"),
    ],
)
def test_clean(text: str, expected: str) -> None:
    assert clean(text) == expected


def test_one_line() -> None:
    assert one_line("  a\r\n\r\n\tb \u2028 c\x00") == "a b c"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Two tubs, 60 l (old)", "Two tubs, 60 l (old)"),
        ("a\n# b", r"a \# b"),
        ("### title ###", r"\#\#\# title \#\#\#"),
        ("C# minor", "C# minor"),
        ("a | b", r"a \| b"),
        ("[x](http://y)", r"\[x\](http\://y)"),
        ("see http://y and www.example.org", r"see http\://y and www\.example.org"),
        ("<script>alert(1)</script>", r"\<script\>alert(1)\</script\>"),
        ("```\ncode", r"\`\`\` code"),
        ("~~~ code", r"\~\~\~ code"),
        ("*bold* _it_ ~~no~~", r"\*bold\* \_it\_ \~\~no\~\~"),
        ("- list", r"\- list"),
        ("+ list", r"\+ list"),
        ("-5 °C", "-5 °C"),
        ("---", r"\---"),
        ("===", r"\==="),
        ("1. first", r"1\. first"),
        ("2) second", r"2\) second"),
        ("1.5 l", "1.5 l"),
        ("salt & rock", "salt & rock"),
        ("&lt; &#60;", r"\&lt; \&#60;"),
        ("> quote", r"\> quote"),
        ("back\\slash", r"back\\slash"),
        ("    indented", "indented"),
    ],
)
def test_escape_markdown(text: str, expected: str) -> None:
    assert escape_markdown(text) == expected
