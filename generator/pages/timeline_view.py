"""The timeline by day: as read, and as used."""

from generator.analysis.timeline import Entry
from generator.pages.contracts import Day, TimelineRow
from generator.pages.formatting import BLANK, Cell, cell, clock, fixed, long_date
from generator.records.readings import Reading

_WORDS = {
    ("mash", "grist"): "grist weighed", ("mash", "liquor"): "mash liquor", ("sparge", "liquor"): "sparge liquor",
    ("first-wort", "gravity"): "gravity of the first wort", ("first-wort", "ph"): "pH of the first wort",
    ("pre-boil", "volume"): "volume before the boil", ("pre-boil", "gravity"): "gravity before the boil",
    ("pre-boil", "temperature"): "temperature before the boil", ("pre-boil", "ph"): "pH before the boil",
    ("post-boil", "volume"): "volume after the boil", ("post-boil", "gravity"): "gravity after the boil",
    ("post-boil", "temperature"): "temperature after the boil", ("post-boil", "ph"): "pH after the boil",
    ("boil", "duration"): "boiled for", ("fermenter", "volume"): "volume into the fermenter", ("fermenter", "gravity"): "gravity in the fermenter",
    ("fermenter", "temperature"): "temperature of the beer", ("fermenter", "ph"): "pH in the fermenter",
    ("package", "volume"): "volume packaged", ("package", "gravity"): "gravity at packaging", ("package", "sugar"): "priming sugar",
    ("package", "temperature"): "temperature at packaging", ("package", "pressure"): "pressure",
    ("mash", "ph"): "pH of the mash",
}  # fmt: skip


def days(entries: tuple[Entry, ...]) -> tuple[Day, ...]:
    """Rows grouped by the day they were read, those without a time in the place of their stage."""
    found: list[tuple[str, list[TimelineRow]]] = []
    for entry in entries:
        time = entry.reading.time
        title = long_date(time) if time else "Without a time"
        if not found or found[-1][0] != title:
            found.append((title, []))
        found[-1][1].append(_row(entry))
    return tuple(Day(title, tuple(rows)) for title, rows in found)


def _row(entry: Entry) -> TimelineRow:
    reading = entry.reading
    value, _, unit = reading.written.partition(" ")
    if reading.is_note:
        return TimelineRow(_time(reading), reading.note or "–", "", BLANK, BLANK, BLANK, "", superseded=False)
    words = _WORDS.get(
        (reading.stage, reading.what), f"score for {reading.what}" if reading.stage == "tasting" else f"{reading.stage} {reading.what}"
    )
    return TimelineRow(
        _time(reading), words, unit or ("SG" if reading.unit == "SG" else ""), cell(value.replace(",", ".").replace("-", "\N{MINUS SIGN}")),
        BLANK if reading.at is None else cell(fixed(reading.at, 0 if reading.at == round(reading.at) else 1)),
        _used(entry), reading.note, entry.superseded,
    )  # fmt: skip


def _time(reading: Reading) -> str:
    return clock(reading.time) if reading.time else ""


def _used(entry: Entry) -> Cell:
    if entry.at_20 is None:
        return BLANK
    return cell(f"{entry.at_20:.4f}" if entry.reading.what == "gravity" else f"{entry.at_20:.2f}")
