"""One page as one file: its style sheets, fonts, pictures and scripts inside, its links absolute or gone."""

import base64
import hashlib
import posixpath
import re
from collections.abc import Mapping
from html import escape
from html.parser import HTMLParser
from urllib.parse import quote, unquote, urlsplit

MARK = '<meta name="generator" content="Wortledger, one batch in one file">'
"""By it a file is known as one that may be replaced."""
WITHIN = "data-within"
"""Attribute of elements that are of use only within the journal: they are left out where it has no address."""
_TYPES = {
    "woff2": "font/woff2", "svg": "image/svg+xml", "png": "image/png", "jpg": "image/jpeg", "jpeg": "image/jpeg", "webp": "image/webp",
}  # fmt: skip
_VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
_URL = re.compile(r"""url\(\s*["']?([^"')]+?)["']?\s*\)""")
_COMMENT = re.compile(r"/\*.*?\*/\n?", re.DOTALL)
_POLICY = "default-src 'none'; img-src data:; style-src {style}; font-src data:;{script} base-uri 'none'; form-action 'none'"


def embedded(html: str, path: str, files: Mapping[str, bytes], base_url: str) -> str:
    """A page with all that it needs inside.

    Args:
        html: the page, as it stands in the site.
        path: of the page within the site.
        files: whatever it may ask for, by their paths within the site.
        base_url: address of the published journal, "" for none: links to other pages are then left as plain text.

    Raises:
        KeyError: the page asks for something that isn't among the files.
    """
    writer = _Writer(path, files, base_url.rstrip("/"))
    writer.feed(html)
    writer.close()
    return writer.whole()


class _Writer(HTMLParser):
    """Copies a page token by token, letter for letter but for what leads out of it."""

    def __init__(self, path: str, files: Mapping[str, bytes], base: str) -> None:
        super().__init__(convert_charrefs=False)
        self._path, self._files, self._base = path, files, base
        self._out: list[str] = []
        self._sheets: list[str] = []
        self._scripts: list[str] = []
        self._policy_at = self._style_at = -1
        self._links: list[bool] = []
        """Whether each open link is left standing."""
        self._gone: list[str] = []
        """Tags that are open within an element that is left out."""

    def whole(self) -> str:
        """The page, once all of it was fed."""
        css = _css(self._sheets, self._files)
        script = "\n".join(self._scripts).replace("</script", "<\\/script")
        self._out[self._style_at] = f"<style>{css}</style>"
        wanted = f" script-src {_hash(script)};" if script else ""
        policy = _POLICY.format(style=_hash(css), script=wanted)
        self._out[self._policy_at] = f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n{MARK}'
        page = "".join(self._out)
        return page.replace("</body>", f"<script>{script}</script>\n</body>") if script else page

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        known = dict(attrs)
        if self._gone or (WITHIN in known and not self._base):
            if tag not in _VOID:
                self._gone.append(tag)
            return
        match tag:
            case "meta" if known.get("http-equiv") == "Content-Security-Policy":
                self._policy_at = self._slot()
            case "link":
                self._link(known)
            case "script" if known.get("src"):
                self._scripts.append(self._file(known["src"] or "").decode())
                self._gone.append(tag)
            case "a":
                self._anchor(known)
            case "source":
                pass  # the img holds the picture
            case "img":
                self._write(tag, known | {"src": _data(self._place(known["src"] or ""), self._files)}, drop=("srcset", "sizes", "loading"))
            case _ if WITHIN in known:
                self._write(tag, known, drop=(WITHIN,))
            case _:
                self._out.append(self.get_starttag_text() or "")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:  # noqa: ARG002
        """Elements of drawings, which close themselves."""
        self._copy(self.get_starttag_text() or "")

    def handle_endtag(self, tag: str) -> None:
        if self._gone:
            self._gone.pop()
        elif tag != "a" or self._links.pop():
            self._out.append(f"</{tag}>")

    def _link(self, known: dict[str, str | None]) -> None:
        href = known.get("href") or ""
        match known.get("rel"):
            case "stylesheet":
                if self._style_at < 0:
                    self._style_at = self._slot()
                self._sheets.append(self._place(href))
            case "icon":
                self._write("link", known | {"href": _data(self._place(href), self._files)})
            case _:
                self._out.append(self.get_starttag_text() or "")

    def _anchor(self, known: dict[str, str | None]) -> None:
        href = known.get("href") or ""
        parts = urlsplit(href)
        stands = bool(parts.scheme or parts.netloc or not parts.path)
        if stands:
            self._out.append(self.get_starttag_text() or "")
        elif self._base:
            fragment = f"#{parts.fragment}" if parts.fragment else ""
            self._write("a", known | {"href": f"{self._base}/{quote(self._place(href))}{fragment}"}, drop=(WITHIN,))
        self._links.append(stands or bool(self._base))

    def _write(self, tag: str, known: dict[str, str | None], drop: tuple[str, ...] = ()) -> None:
        kept = (name if value is None else f'{name}="{escape(value)}"' for name, value in known.items() if name not in drop)
        self._out.append(f"<{' '.join([tag, *kept])}>")

    def _slot(self) -> int:
        self._out.append("")
        return len(self._out) - 1

    def _place(self, href: str) -> str:
        """Where a link leads, as a path within the site."""
        return posixpath.normpath(posixpath.join(posixpath.dirname(self._path), unquote(urlsplit(href).path)))

    def _file(self, href: str) -> bytes:
        return self._files[self._place(href)]

    def _copy(self, text: str) -> None:
        if not self._gone:
            self._out.append(text)

    def handle_data(self, data: str) -> None:
        self._copy(data)

    def handle_entityref(self, name: str) -> None:
        self._copy(f"&{name};")

    def handle_charref(self, name: str) -> None:
        self._copy(f"&#{name};")

    def handle_comment(self, data: str) -> None:
        self._copy(f"<!--{data}-->")

    def handle_decl(self, decl: str) -> None:
        self._copy(f"<!{decl}>")


def _data(path: str, files: Mapping[str, bytes]) -> str:
    """A file as a data address."""
    return f"data:{_TYPES[path.rpartition('.')[2].lower()]};base64,{base64.b64encode(files[path]).decode()}"


def _hash(text: str) -> str:
    """How a policy names a piece of text."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _css(sheets: list[str], files: Mapping[str, bytes]) -> str:
    """Style sheets as one, with their fonts inside. Every face is wanted: each batch page sets something in each of them."""

    def inside(path: str) -> str:
        text = _COMMENT.sub("", files[path].decode())
        return _URL.sub(lambda url: f'url("{_data(posixpath.normpath(posixpath.join(posixpath.dirname(path), url[1])), files)}")', text)

    return "".join(map(inside, sheets)).replace("</", "<\\/")
