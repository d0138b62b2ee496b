"""Drawing by the pixel: one unit is one CSS pixel, y runs downwards; colours are tokens of the page."""

import io
import math
import re
from dataclasses import dataclass
from typing import Any
from xml.etree import ElementTree

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon, Rectangle

from generator.charts.chart import Drawing

# One sentinel a token: no two are alike and none is a colour that anyone would choose.
INK, QUIET, RULE, BLUE, RUBRIC, MOSS, PAPER, BAND = (f"#0{n}0{n}0{n + 1}" for n in range(1, 9))
_TOKENS = {INK: "ink", QUIET: "quiet", RULE: "rule", BLUE: "blue", RUBRIC: "rubric", MOSS: "moss", PAPER: "paper", BAND: "band"}
HAIR, LINE, TEXT = 0.8, 1.6, 14
DASHES = (5.0, 4.0)
_SETTINGS: Any = {"svg.fonttype": "none", "svg.hashsalt": "wortledger", "path.simplify": False, "font.family": "sans-serif"}
_SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Pen:
    """A sheet to draw on."""

    figure: Figure
    axes: Axes
    width: float
    height: float

    def write(self, x: float, y: float, text: str, colour: str = INK, *, size: float = TEXT, anchor: str = "left", bold: bool = False) -> None:
        """Text on its baseline."""
        self.axes.text(x, y, text.replace("$", r"\$"), color=colour, fontsize=size, ha=anchor, va="baseline", fontweight="bold" if bold else "normal")

    def line(self, xs: list[float], ys: list[float], colour: str, width: float = LINE, *, dashed: bool = False) -> None:
        """A line through points."""
        (drawn,) = self.axes.plot(xs, ys, color=colour, lw=width, solid_capstyle="butt", solid_joinstyle="round")
        if dashed:
            drawn.set_dashes(DASHES)

    def rule(self, y: float, left: float = 0.0, right: float | None = None, colour: str = RULE, width: float = HAIR) -> None:
        """A horizontal hairline."""
        self.line([left, self.width if right is None else right], [y, y], colour, width)

    def double_rule(self, y: float) -> None:
        """What closes a sum."""
        self.rule(y, colour=INK, width=0.9)
        self.rule(y + 3, colour=INK, width=0.9)

    def bar(self, start: float, end: float, y: float, colour: str, height: float = 9.0) -> None:
        """A horizontal bar about y."""
        self.axes.add_artist(Rectangle((min(start, end), y - height / 2), abs(end - start), height, facecolor=colour, lw=0))

    def whisker(self, low: float, high: float, y: float, colour: str = INK) -> None:
        """A doubt, lying."""
        self.line([low, high], [y, y], colour, 1.2)
        for x in (low, high):
            self.line([x, x], [y - 3, y + 3], colour, 1.2)

    def standing_whisker(self, x: float, low: float, high: float, colour: str = BLUE) -> None:
        """A doubt, standing."""
        self.line([x, x], [low, high], colour, 1.3)
        for y in (low, high):
            self.line([x - 4, x + 4], [y, y], colour, 1.3)

    def plan_mark(self, x: float, y: float, size: float = 5.0) -> None:
        """An open diamond: what was planned."""
        corners = [(x, y - size), (x + size, y), (x, y + size), (x - size, y)]
        self.axes.add_artist(Polygon(corners, closed=True, facecolor=PAPER, edgecolor=INK, lw=1.2))

    def dot(self, x: float, y: float, size: float = 3.6, *, hollow: bool = False) -> None:
        """What was read; hollow where it is an estimate."""
        self.axes.add_artist(
            Circle((x, y), size, facecolor=PAPER if hollow else BLUE, edgecolor=BLUE if hollow else PAPER, lw=1.2 if hollow else 1.0)
        )

    def spike_mark(self, x: float, y: float, size: float = 2.2) -> None:
        """A small open square: what a logger sent and nobody believes."""
        self.axes.add_artist(Rectangle((x - size, y - size), 2.0 * size, 2.0 * size, facecolor=PAPER, edgecolor=QUIET, lw=1.0))

    def band(self, xs: list[float], tops: list[float], feet: list[float]) -> None:
        """The light band of a doubt between two lines."""
        outline = [*zip(xs, tops, strict=True), *zip(reversed(xs), reversed(feet), strict=True)]
        self.axes.add_artist(Polygon(outline, closed=True, facecolor=BAND, lw=0))


def sheet(width: float, height: float) -> Pen:
    """A fresh sheet of so many pixels."""
    figure = Figure(figsize=(width / 72, height / 72), dpi=72)
    FigureCanvasSVG(figure)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_xlim(0, width)
    axes.set_ylim(height, 0)
    axes.axis("off")
    return Pen(figure, axes, width, height)


def finished(pen: Pen) -> Drawing:
    """The sheet as bare SVG elements: text as text, colours as classes, no ids, no style attributes."""
    raw = io.StringIO()
    with mpl.rc_context(_SETTINGS):
        pen.figure.savefig(raw, format="svg", transparent=True, metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    root = ElementTree.fromstring(raw.getvalue())
    for defs in root.iter(f"{_SVG}defs"):
        defs.clear()
    body = "".join(_element(node) for node in root.iter() if node.tag in (f"{_SVG}path", f"{_SVG}text"))
    return Drawing(round(pen.width), round(pen.height), body)


def _element(node: ElementTree.Element) -> str:
    style = dict(part.split(":", 1) for part in node.get("style", "").replace(" ", "").split(";") if ":" in part)
    return _text(node, style) if node.tag == f"{_SVG}text" else _path(node, style)


def _path(node: ElementTree.Element, style: dict[str, str]) -> str:
    fill, stroke = _TOKENS.get(style.get("fill", "")), _TOKENS.get(style.get("stroke", ""))
    if fill is None and stroke is None:
        return ""  # the ground of figure and axes
    shape = re.sub(r"-?\d+\.\d+", lambda number: f"{float(number[0]):.1f}".removesuffix(".0"), node.get("d", ""))
    shape = re.sub(r"\s*\n\s*", "", shape.strip()).replace(" L ", "L").replace("M ", "M").replace("L ", "L").replace("C ", "C")
    classes = " ".join(name for name in (f"f-{fill}" if fill else "f-none", f"s-{stroke}" if stroke else "") if name)
    extra = f' stroke-width="{float(style.get("stroke-width", 1)):.1f}"' if stroke else ""
    if "stroke-dasharray" in style:
        extra += f' stroke-dasharray="{style["stroke-dasharray"].replace(",", " ")}"'
    return f'<path class="{classes}" d="{shape}"{extra}/>'


def _text(node: ElementTree.Element, style: dict[str, str]) -> str:
    classes = [f"f-{_TOKENS[style['fill']]}"]
    font = " ".join(style.values())
    if style.get("font-weight") in ("bold", "700") or re.match(r"(bold|700)", style.get("font", "")):
        classes.append("t-bold")
    size = re.search(r"(\d+(?:\.\d+)?)px", font)
    if size and float(size[1]) != TEXT:
        classes.append(f"t-{float(size[1]):.0f}")
    anchor = {"middle": "t-middle", "end": "t-end"}.get(style.get("text-anchor", ""), "")
    classes += [anchor] if anchor else []
    x, y = (f"{float(node.get(key, '0')):.1f}".removesuffix(".0") for key in ("x", "y"))
    words = (node.text or "").replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return f'<text class="{" ".join(classes)}" x="{x}" y="{y}">{words}</text>'


def ticks(low: float, high: float, most: int) -> list[float]:
    """At most so many round values within low..high."""
    span = high - low
    if span <= 0.0 or most < 1:
        return [low]
    step = 10.0 ** math.floor(math.log10(span / most))
    step *= next(factor for factor in (1.0, 2.0, 5.0, 10.0, 20.0, 50.0) if span / (step * factor) <= most)
    first = math.ceil(low / step - 1e-9)
    return [round(index * step, 10) for index in range(first, math.floor(high / step + 1e-9) + 1)]


def decimals(values: list[float]) -> int:
    """Digits after the point that tell round values apart."""
    return max((len(f"{value:.6f}".rstrip("0").split(".")[1]) for value in values), default=0)
