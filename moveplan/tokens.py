"""Names that cannot be guessed: one a person, made of a secret that is kept beside the plan."""

from __future__ import annotations

import base64
import hashlib
import hmac
import os
import secrets
from pathlib import Path

from moveplan.errors import OutputError


def token_of(secret: bytes, plan_id: str, person: str, purpose: str = "") -> str:
    """Make the name of a person, the same each time.

    Parameters
    ----------
    secret : bytes
        What it is made of.
    plan_id, person : str
        Whose it is.
    purpose : str
        What it opens; who knows the name for one thing does not know that for another.
    """
    whole = "\n".join((plan_id, person, *filter(None, (purpose,))))
    digest = hmac.new(secret, whole.encode(), hashlib.sha256).digest()
    return base64.urlsafe_b64encode(digest[:18]).decode("ascii")


def secret_of(plan: Path) -> bytes:
    """Read what tokens are made of, or make it: 32 random bytes beside the plan that only its owner may read.

    It is kept, so that the addresses hold when the server is started again; who deletes it makes all of them void.
    """
    path = plan.with_suffix(".crew-secret")
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return path.read_bytes()
    except OSError as error:
        raise OutputError(f"{path} cannot be written: {(error.strerror or str(error)).lower()}") from None
    with os.fdopen(handle, "wb") as file:
        made = secrets.token_bytes(32)
        file.write(made)
    return made
