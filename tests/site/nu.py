"""The Nu HTML checker on a built site, by hand: it needs Java and 60 MB, so it is no part of the suite, where html5lib stands for it.

    npm install vnu-jar
    python -m generator build batches --out /tmp/site
    python -m tests.site.nu node_modules/vnu-jar/build/dist/vnu.jar /tmp/site

Prints what it says against pages, sheets and pictures, and ends with status 1 if it says anything.
"""

import json
import subprocess
import sys
from pathlib import Path

ALLOWED = (
    "Resource violates Content Security Policy",  # it takes 'self' for something else on file://
    "CSS: “paint-order”",  # SVG 2; it doesn't know it yet
)


def messages(jar: Path, site: Path) -> list[str]:
    """Everything it says of a site, but for what is allowed."""
    files = [str(path) for path in sorted(site.rglob("*")) if path.suffix in (".html", ".css", ".svg")]
    command = ["java", "-jar", str(jar), "--also-check-css", "--also-check-svg", "--format", "json", "--stdout", *files]
    said = json.loads(subprocess.run(command, capture_output=True, text=True, check=False).stdout)["messages"]
    found = [f"{Path(one['url']).name}:{one.get('lastLine', 1)}: {one.get('subType', one['type'])}: {one['message']}" for one in said]
    return [text for text in found if not any(allowed in text for allowed in ALLOWED)]


if __name__ == "__main__":
    against = messages(Path(sys.argv[1]), Path(sys.argv[2]))
    print("\n".join([*against, f"{len(against)} messages"]))
    sys.exit(min(len(against), 1))
