from __future__ import annotations

import pytest

from moveplan.outputs.documents.short_names import short_names, with_names


def shortened(script: str) -> str:
    return with_names(script, short_names(script))


@pytest.mark.parametrize(
    ("script", "short"),
    [
        ("let one=1;f(one.one,{one,two:one})", "let a=1;f(a.one,{one:a,two:a})"),
        ("let {one,two:{three}}=page;f(two,three)", "let {one:b,two:{three:a}}=page;f(two,a)"),
        ("let [one,two]=page;f(two?one:two)", "let [b,a]=page;f(a?b:a)"),
        (
            "let said=(text,within=document)=>within.find(text)",
            "let c=(b,a=document)=>a.find(b)",
        ),
        ("let said=({i,lacks=[many,more]})=>[...lacks,i]", "let c=({i:b,lacks:a=[many,more]})=>[...a,b]"),
        ("for(let row of rows){let one=row,other=2;f(other)}", "for(let a of rows){let c=a,b=2;f(b)}"),
        ("let of=1;for(let row of rows)of(row)", "let of=1;for(let a of rows)of(a)"),
        (
            'let row=name=>/row (name)/.test(name)&&name=="0"',
            'let b=a=>/row (name)/.test(a)&&a=="0"',
        ),
        ("let one=two?.one??other?one:b", "let a=two?.one??other?a:b"),
        ("let minutes=1;b={minutes};a(b)", "let c=1;b={minutes:c};a(b)"),
    ],
)
def test_only_variables_that_are_declared_get_short_names(script: str, short: str) -> None:
    assert shortened(script) == short


def test_the_shortest_names_go_to_what_is_named_most_often_and_none_is_given_twice() -> None:
    many = [f"value{number}" for number in range(60)]
    script = "".join(f"let {name}={number};" for number, name in enumerate(many)) + "f(value59,value59)"
    names = short_names(script)
    assert next(iter(names)) == "value59"
    assert len(set(names.values())) == len(many)
    assert all(names[name] not in ("f", "if", "do", "in", "of") for name in many)
    assert sorted(map(len, names.values())) == [1] * 51 + [2] * 9
