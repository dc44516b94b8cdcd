"""Pictures: tracks (bars and marks along a scale), lanes' backdrops and charts.

Comes in: picture blocks and the area they stand in. Goes out: marks.
"""

from __future__ import annotations

from sheetgen.printing import fonts
from sheetgen.printing.blocks import Bar, Chart, Cross, Curve, Label, Lanes, Mark, Note, Patch, Track
from sheetgen.printing.desk import Area, Desk
from sheetgen.printing.marks import Area as Filled
from sheetgen.printing.marks import Box, Hatch, MarkOnPage, Stroke
from sheetgen.printing.wrap import Setting, wrapped

EDGE = 0.6 * fonts.MM_PER_POINT
_LEAST_FRAME, _FRAME_HANG, _LABEL_GAP = 3.7, 1.5, 1.5


def _cut(start: float, end: float) -> tuple[float, float]:
    return max(0.0, min(1.0, start)), max(0.0, min(1.0, end))


def bar(kind: str, x: float, y: float, width: float, height: float) -> tuple[MarkOnPage, ...]:
    """A bar's marks; x and y are the upper left corner of its outer edge."""
    inner = (x + EDGE / 2, y + EDGE / 2, max(width - EDGE, 0.05), max(height - EDGE, 0.05))
    match kind:
        case "solid":
            return (Box(*inner, 0.6, "water"),)
        case "outline":
            return (Box(*inner, 0.6, "white"),)
        case "hatch":
            spacing = 0.9 if height < 2 else 1.3
            return (Hatch(x, y, width, height, spacing), Box(*inner, 0.5))
        case "pale":
            return (Box(x, y, width, height, 0, "pale"),)
    return (Box(x, y, width, height, 1.5),)


def track_below(track: Track) -> float:
    """How far a track's words and drops reach below its bars' lower edge, in millimetres."""
    below = any(isinstance(item, Label) and item.side == "below" for item in track.content)
    return track.drop if below else 0.0


def track(track: Track, area: Area, lower: float, desk: Desk) -> None:
    """Put a track's marks; `lower` is the lower edge of its bars."""
    left, right = area.x(track.at), area.x(track.to)
    if track.axis:
        desk.put(Stroke(((left, lower), (right, lower)), 0.5))
    bars = [item for item in track.content if isinstance(item, Bar)]
    windows = [_window(item, area, (left, right), lower, track) for item in bars if item.kind == "frame"]
    for item in (item for item in bars if item.kind != "frame"):
        start, end = _cut(item.start, item.end)
        x, width = left + start * (right - left), (end - start) * (right - left)
        desk.put(*bar(item.kind, x, lower - track.height, width, track.height))
    for mark in (item for item in track.content if isinstance(item, Mark)):
        desk.put(_mark(mark, left + mark.at * (right - left), lower, track, windows))
    desk.put(*windows)
    _labels(track, (left, right), area, lower, desk)


def _window(item: Bar, area: Area, scale: tuple[float, float], lower: float, track: Track) -> Box:
    """The frame of "this part": wide enough to be seen; it may hang out a little beyond the scale."""
    left, right = (scale[0] + share * (scale[1] - scale[0]) for share in (item.start, item.end))
    extra = max(0.0, _LEAST_FRAME - (right - left)) / 2
    left, right = max(area.left - 1, left - extra), min(area.right + 1, right + extra)
    return Box(left, lower - track.height - _FRAME_HANG, right - left, track.height + 2 * _FRAME_HANG, 1.5)


def _mark(mark: Mark, x: float, lower: float, track: Track, windows: list[Box]) -> Stroke:
    upper = lower - track.height
    match mark.kind:
        case "drop":
            if any(window.x - 0.5 < x < window.x + window.width + 0.5 for window in windows):
                upper = lower + _FRAME_HANG + 0.4
            return Stroke(((x, upper), (x, lower + track.drop)), 0.8)
        case "tick":
            return Stroke(((x, lower), (x, lower + 2.0)), 0.8)
        case "minor":
            return Stroke(((x, lower), (x, lower + 1.2)), 0.5)
        case "grid":
            return Stroke(((x, upper), (x, lower)), 0.5, dots=True)
    return Stroke(((x, upper - 0.9), (x, lower + 0.9)), 2.0)


def _labels(track: Track, scale: tuple[float, float], area: Area, lower: float, desk: Desk) -> None:
    """Words in the order written, which is the order of importance: one that would touch an earlier is left
    out.
    """
    taken: dict[str, list[tuple[float, float]]] = {"above": [], "below": []}
    for label in (item for item in track.content if isinstance(item, Label)):
        setting = wrapped(desk.numbered(label.content), label.size, label.weight == "bold", 1e6)
        x = _label_left(label, setting, scale, area)
        span = (x - _LABEL_GAP, x + setting.widest + _LABEL_GAP)
        if any(span[0] < right and left < span[1] for left, right in taken[label.side]):
            continue
        taken[label.side].append((x, x + setting.widest))
        y = lower + track.drop if label.side == "below" else lower - track.height - 1.6
        desk.setting(setting, 0, x, y, grey=False)


def _label_left(label: Label, setting: Setting, scale: tuple[float, float], area: Area) -> float:
    """The left edge of a label; a left-aligned one that would leave the area stands left of its place
    instead.
    """
    x, width = scale[0] + label.at * (scale[1] - scale[0]), setting.widest
    share = {"left": 0.0, "center": 0.5, "right": 1.0}[label.align]
    left = x - share * width + (1.1 if label.align == "left" else 0.0)
    if label.align == "left" and left + width > area.right:
        return x - width - 1.1
    return max(area.left, min(left, area.right - width))


def backdrop(lanes: Lanes, area: Area, top: float, bottom: float, desk: Desk) -> None:
    """What runs behind all the rows of some lanes."""
    left, right = area.x(lanes.at), area.x(lanes.to)
    for item in lanes.content:
        if isinstance(item, Bar):
            start, end = _cut(item.start, item.end)
            x, width = left + start * (right - left), (end - start) * (right - left)
            behind = Hatch(x, top, width, bottom - top, 2.0)
            desk.put(behind if item.kind == "hatch" else Box(x, top, width, bottom - top, 0, "pale"))
        elif isinstance(item, Mark):
            x = left + item.at * (right - left)
            desk.put(Stroke(((x, top), (x, bottom)), 0.5, dots=item.kind == "grid"))


def chart(chart: Chart, area: Area, top: float, height: float, desk: Desk) -> None:
    """Put a chart's marks in the order written."""
    left, right = area.x(chart.at), area.x(chart.to)

    def point(x: float, y: float) -> tuple[float, float]:
        return left + x * (right - left), top + (1 - y) * height

    for item in chart.content:
        match item:
            case Curve():
                _curve(item, tuple(point(x, y) for x, y in item.points), desk)
            case Note():
                _note(item, point(item.x, item.y), desk)
            case Patch():
                (x, upper), (x_end, lower) = point(item.left, item.top), point(item.right, item.bottom)
                desk.put(*_patch(item.kind, x, upper, x_end - x, lower - upper))
            case Cross():
                _cross(point(item.x, item.y), desk)


def _patch(kind: str, x: float, y: float, width: float, height: float) -> tuple[MarkOnPage, ...]:
    return (Hatch(x, y, width, height, 1.3),) if kind == "hatch" else bar(kind, x, y, width, height)


def _curve(curve: Curve, points: tuple[tuple[float, float], ...], desk: Desk) -> None:
    if len(points) < 2:
        return
    if curve.fill:
        desk.put(Filled(points))
    if curve.weight:
        desk.put(Stroke(points, curve.weight, dots=curve.dots))


def _note(note: Note, at: tuple[float, float], desk: Desk) -> None:
    setting = wrapped(desk.numbered(note.content), note.size, False, 1e6)
    share = {"left": 0.0, "center": 0.5, "right": 1.0}[note.align]
    x, y = at[0] + note.right - share * setting.widest, at[1] - note.lift
    if note.clear:
        cap = fonts.cap_mm(note.size)
        desk.put(Box(x - 0.8, y - cap - 0.8, setting.widest + 1.6, cap + 2.0, 0, "white"))
    desk.setting(setting, 0, x, y, grey=False)


def _cross(at: tuple[float, float], desk: Desk) -> None:
    x, y = at
    desk.put(Stroke(((x - 1.2, y - 1.2), (x + 1.2, y + 1.2)), 1.2))
    desk.put(Stroke(((x - 1.2, y + 1.2), (x + 1.2, y - 1.2)), 1.2))
