"""Make sure that the tests find a browser: `python -m tests.browser.install`.

A Chromium on PATH serves as it is. Where there is none, the system's package is installed if we may (as root, with
apt); else Playwright fetches a Chromium of its own.
"""

import os
import shutil
import subprocess
import sys

NAMES = ("chromium", "chromium-browser", "google-chrome")


def found() -> str | None:
    """Path of a Chromium on PATH, if there is one."""
    return next((path for name in NAMES if (path := shutil.which(name))), None)


def main() -> None:
    """Install a browser unless one is there."""
    if found():
        print(f"browser: {found()}")
        return
    if shutil.which("apt-get") and os.geteuid() == 0:
        subprocess.run(["apt-get", "update", "-qq"], check=True)
        subprocess.run(["apt-get", "install", "-y", "-qq", "--no-install-recommends", "chromium", "fonts-dejavu"], check=True)
    else:
        subprocess.run([sys.executable, "-m", "playwright", "install", "--with-deps", "chromium"], check=True)


if __name__ == "__main__":
    main()
