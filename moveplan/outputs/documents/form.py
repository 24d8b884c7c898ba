"""The plan file as a form in one HTML file: nothing is fetched, nothing is sent."""

from __future__ import annotations

import json
from typing import Any

from markupsafe import Markup

from moveplan.compiled import template_folder
from moveplan.kept import table_of
from moveplan.outputs.documents.policy import policy_for
from moveplan.outputs.wording.templates import environment
from moveplan.planfile.formfields import form_fields
from moveplan.science.animals.livestock import kinds


def form_html(name: str, opened: str | None = None) -> str:
    """Write the form.

    Parameters
    ----------
    name : str
        Of the plan file that it saves.
    opened : str or None
        Content of a plan that is filled in already.

    Returns
    -------
    str
        One HTML file with its style and script inside; its policy lets nothing else in, and nothing out.
    """
    folder = template_folder() / "new"
    style = (folder / "form.css").read_text("utf-8")
    script = "\n".join((folder / part).read_text("utf-8") for part in ("yaml.js", "form.js"))
    model = {
        "fields": form_fields(),
        "name": name,
        **table_of(folder / "form.toml"),
    }
    values = {
        "policy": policy_for(style, script),
        "style": _raw(style),
        "script": _raw(script),
        "model": _json(model),
        "opened": _json(opened),
        "name": name,
        "kinds": sorted({named for kind in kinds().values() for named in (kind.name, *kind.aliases)}),
    }
    return environment("html").get_template("new/form.html.j2").render(values)


def _raw(text: str) -> Markup:
    return Markup(text)  # noqa: S704 - shipped with the program, and allowed by its digest


def _json(data: Any) -> Markup:
    """Write data for a script; nothing in it can end the element that holds it."""
    return Markup(json.dumps(data, ensure_ascii=False).replace("<", "\\u003c"))  # noqa: S704 - escaped just here
