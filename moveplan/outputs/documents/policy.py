"""What a page of ours may load and run: nothing but what stands in it."""

from __future__ import annotations

import base64
import hashlib


def policy_for(style: str, script: str) -> str:
    """Write the content security policy that allows one style and one script and nothing else.

    Parameters
    ----------
    style, script : str
        As they stand in the page, to the byte.
    """
    return (
        f"default-src 'none'; style-src '{_digest(style)}'; script-src '{_digest(script)}'; "
        "img-src data:; base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")
