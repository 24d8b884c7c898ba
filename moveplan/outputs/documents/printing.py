"""Sheets of paper as PDF: laid out by the page's own style, printed by a headless Chromium that is installed."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path

from moveplan.errors import OutputError
from moveplan.outputs.documents.page import Sheet, sheet_html
from moveplan.outputs.outlook import Outlook
from moveplan.plan.move import Plan

SHEETS: Mapping[Sheet, str] = {
    "todo": "checklist.pdf",
    "sheets": "run-sheets.pdf",
    "labels": "labels.pdf",
    "loads": "load-plan.pdf",
    "shopping": "shopping-list.pdf",
}
"""What is printed, and the names of the files."""

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
LONGEST_S = 60
"""How long one file may take. [s]"""

LETTER_COUNTRIES = frozenset(
    ["BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"]
)
"""Countries that print on US Letter; all others on A4: Unicode CLDR, supplemental data, paperSize (recalled)."""

_FLAGS = (
    "--headless",
    "--disable-gpu",
    "--disable-quic",
    "--disable-extensions",
    "--disable-sync",
    "--disable-component-update",
    "--disable-background-networking",
    "--no-first-run",
    "--no-default-browser-check",
    "--host-resolver-rules=MAP * ~NOTFOUND",
    "--no-pdf-header-footer",
)


def find_browser() -> Path | None:
    """Find a Chromium on the search path; None where none is installed."""
    found = next(filter(None, map(shutil.which, BROWSERS)), None)
    return Path(found) if found else None


def paper_of(plan: Plan) -> str:
    """Name the paper of the plan's country, ``A4`` or ``letter``; without a country, of its locale.

    Parameters
    ----------
    plan : Plan
        What is printed.
    """
    territory = plan.country or plan.locale.replace("-", "_").rpartition("_")[2]
    return "letter" if territory.upper() in LETTER_COUNTRIES else "A4"


def printed(outlook: Outlook, browser: Path) -> dict[str, bytes]:
    """Print the sheets of a plan that can be followed.

    Parameters
    ----------
    browser : Path
        A Chromium.

    Returns
    -------
    dict of str to bytes
        PDF by name of the file; a sheet with nothing on it is left out.

    Raises
    ------
    OutputError
        Where the browser does not print.
    """
    if not outlook.follow:
        return {}
    return dict(_printed(outlook, browser))


def _printed(outlook: Outlook, browser: Path) -> Iterator[tuple[str, bytes]]:
    paper = paper_of(outlook.project.plan)
    for sheet, name in SHEETS.items():
        html = sheet_html(outlook, sheet, paper)
        if html is not None:
            yield name, _pdf(html, browser, name)


def _pdf(html: str, browser: Path, name: str) -> bytes:
    """Print one page in a profile of its own that is thrown away; the page asks nobody for anything."""
    with tempfile.TemporaryDirectory(prefix="moveplan-", ignore_cleanup_errors=True) as folder:
        page, target = Path(folder) / "page.html", Path(folder) / "page.pdf"
        page.write_text(html, encoding="utf-8", newline="\n")
        # Chromium's own sandbox cannot be set up by the superuser; the page runs no script.
        rights = ("--no-sandbox",) if hasattr(os, "geteuid") and os.geteuid() == 0 else ()
        command = (
            str(browser),
            *_FLAGS,
            *rights,
            f"--user-data-dir={folder}/profile",
            f"--print-to-pdf={target}",
            page.as_uri(),
        )
        try:
            subprocess.run(command, timeout=LONGEST_S, check=False, capture_output=True)  # noqa: S603 - no shell
            data = target.read_bytes()
        except subprocess.TimeoutExpired:
            raise _refused(name, f"{browser} took longer than {LONGEST_S} s") from None
        except OSError as error:
            raise _refused(
                name, f"{browser} printed nothing ({(error.strerror or str(error)).lower()})"
            ) from None
    if not data.startswith(b"%PDF-"):
        raise _refused(name, f"{browser} wrote no PDF")
    return data


def _refused(name: str, reason: str) -> OutputError:
    return OutputError(f"{name} cannot be printed: {reason}; nothing was written; build without --pdf")
