"""The report as a PDF: through WeasyPrint, or through a browser of the Chromium family."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from rigxl.errors import InputError

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    r"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
)
"""Where such browsers stand on systems that do not put them on the path."""
SECONDS = 600
LONG = 400_000
"""Characters of some fifty sheets; more are printed in a quarter of the time and memory by a browser."""
NEITHER = (
    "no PDF was written: it needs WeasyPrint (pip install 'rigxl[report]', and the system's Pango library) "
    "or Chromium on the path; the HTML page can be printed from any browser"
)


def pdf(html: str) -> bytes:
    """A page of ours as a PDF; nothing but what is in the page is fetched.

    Raises:
        InputError: Nothing on this machine can make one, or it failed; the sentence says what would do.
    """
    makers = (_by_weasyprint, _by_browser)
    for make in makers if len(html) <= LONG else reversed(makers):
        made = make(html)
        if made is not None:
            return made
    raise InputError(NEITHER)


def _by_weasyprint(html: str) -> bytes | None:
    """Through WeasyPrint; None where it or the libraries it needs are missing."""
    try:
        from weasyprint import HTML
        from weasyprint.urls import URLFetcher
    except (ImportError, OSError):
        return None
    made: bytes = HTML(string=html, url_fetcher=URLFetcher(allowed_protocols=["data"])).write_pdf()
    return made


def _by_browser(html: str) -> bytes | None:
    """Through a browser without a window; None where there is none."""
    program = browser()
    if program is None:
        return None
    with tempfile.TemporaryDirectory(prefix="rigxl-") as name:
        folder = Path(name)
        page, made = folder / "page.html", folder / "page.pdf"
        page.write_text(html, encoding="utf-8")
        command = [
            program, "--headless", "--disable-gpu", "--no-first-run", "--no-pdf-header-footer",
            f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={made}", page.as_uri(),
        ]  # fmt: skip
        if hasattr(os, "geteuid") and os.geteuid() == 0:  # its sandbox does not start for root
            command.insert(1, "--no-sandbox")
        try:
            done = subprocess.run(command, capture_output=True, timeout=SECONDS, check=False)
        except subprocess.TimeoutExpired:
            raise InputError(f"no PDF was written: {program} took more than {SECONDS} s") from None
        if done.returncode or not made.exists():
            raise InputError(f"no PDF was written: {program} ended with {done.returncode}")
        return made.read_bytes()


def browser() -> str | None:
    """The first browser of the Chromium family, on the path or where systems install it."""
    return next((found for name in (*BROWSERS, *PLACES) if (found := shutil.which(name))), None)
