"""The sheet for paper: the same words and pictures, in the few tags that Qt's rich text knows.

Qt's text engine lays it out and writes the PDF. It has no grids and draws no SVG inside its text,
so the page is made of tables, and each picture stands by its name. A browser would print the HTML
as well, but none can be counted on where a sheet is made.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape
from typing import Final

from livemon.analyse.session import AthleteAnalysis, AthleteRecord, BoutAnalysis
from livemon.report.bout_picture import AFTER_S, BEFORE_S, bout_picture
from livemon.report.bout_words import facts_of, what_of, word_of
from livemon.report.cautions import cautions
from livemon.report.figures import clock
from livemon.report.findings import Findings, find
from livemon.report.pace_picture import HOW_TO_READ, pace_picture, pace_title
from livemon.report.sheet import MOST_BOUTS, Heading, legend, style
from livemon.report.timeline import line_key, session_picture
from livemon.report.traces import extent
from livemon.tongue import said

_COLUMNS: Final = 4
_DIM: Final = "#55616d"
_APART: Final = "margin-top:4px; margin-bottom:4px"


@dataclass(frozen=True, slots=True)
class Paper:
    """A page to be printed.

    Attributes:
        title: of the document.
        html: rich text; `<img src="name" width="share">` is a picture, `width` its share of the
            page's width in thousandths.
        pictures: SVG by name.
    """

    title: str
    html: str
    pictures: dict[str, str] = field(default_factory=dict)


def sheet_paper(heading: Heading, record: AthleteRecord, analysis: AthleteAnalysis) -> Paper:
    """Write the sheet for paper."""
    findings = find(analysis, record.idle_sites)
    pictures: dict[str, str] = {}
    parts = [
        _head(heading),
        f'<p style="font-size:x-large; {_APART}"><b>{escape(findings.headline)}</b></p>',
        *(f'<p style="margin-bottom:2px">{escape(line)}</p>' for line in findings.meaning),
        f"<p><i>{escape(heading.note)}</i></p>" if heading.note else "",
        _session(record, pictures),
        _bouts(record, analysis, pictures),
        _more(findings, analysis, pictures),
        f'<hr><p style="font-size:small">{escape(cautions())}</p>',
    ]
    return Paper(f"{heading.name}, {heading.when}", "\n".join(filter(None, parts)), pictures)


def _head(heading: Heading) -> str:
    right = " · ".join(escape(part) for part in (heading.title, heading.when) if part)
    return (
        f'<table width="100%"><tr><td><b>{escape(heading.name)}</b></td>'
        f'<td align="right" style="color:{_DIM}">{right}</td></tr></table><hr>'
    )


def _session(record: AthleteRecord, pictures: dict[str, str]) -> str:
    drawn = session_picture(record)
    if not drawn:
        return ""
    key = []
    for number, (sample, name) in enumerate(line_key(record)):
        image = _picture(f"key {number}", sample, 36, pictures)
        key.append(f"{image}&nbsp;{escape(name)}&nbsp;&nbsp; ")
    return (
        f'<p style="font-size:small">{"".join(key)}</p>'
        f"<p>{_picture('session', drawn, 1000, pictures)}</p>"
    )


def _bouts(record: AthleteRecord, analysis: AthleteAnalysis, pictures: dict[str, str]) -> str:
    shown = analysis.bouts[-MOST_BOUTS:]
    if not shown or not record.smo2:
        return ""
    start_s = min(b.bout.start_s for b in shown) - BEFORE_S
    end_s = max(b.bout.end_s for b in shown) + AFTER_S
    levels = extent(list(record.smo2.values()), start_s, end_s, least=20)
    if levels is None:
        return ""
    cells = [_bout(found, record, levels, pictures) for found in shown]
    rows = [cells[at : at + _COLUMNS] for at in range(0, len(cells), _COLUMNS)]
    table = "".join(f"<tr>{''.join(row)}</tr>" for row in rows)
    return (
        f'{_title(said("Bout by bout"))}<table width="100%" cellpadding="3">{table}</table>'
        f'<p style="font-size:small; color:{_DIM}">{legend(analysis)}</p>'
    )


def _bout(
    found: BoutAnalysis, record: AthleteRecord, levels: tuple[float, float],
    pictures: dict[str, str],
) -> str:  # fmt: skip
    bout = found.bout
    drawn = bout_picture(found, record.smo2, levels)
    facts = "<br>".join(escape(fact) for fact in facts_of(found, record))
    what = escape(", ".join(p for p in (what_of(found), clock(bout.duration_s)) if p))
    return (
        f'<td width="25%"><p style="font-size:small; color:{_DIM}"><b>{bout.number}</b> {what}</p>'
        f'<p style="font-size:large"><b>{escape(word_of(found, record))}</b></p>'
        f"<p>{_picture(f'bout {bout.number}', drawn, 232, pictures)}</p>"
        f'<p style="font-size:small">{facts}</p></td>'
    )


def _more(findings: Findings, analysis: AthleteAnalysis, pictures: dict[str, str]) -> str:
    lists = _list(said("What next"), findings.next_time) + _list(
        said("How sure"), findings.sureness
    )
    drawn = [(p, d) for p in analysis.paces if (d := pace_picture(p.pace, p.site))]
    if not drawn:
        return lists
    found, picture = drawn[0]
    title = _title(pace_title(found))
    return (
        f'<table width="100%" cellpadding="3"><tr><td width="50%">{title}'
        f"<p>{_picture('pace', picture, 470, pictures)}</p>"
        f'<p style="font-size:small">{escape(said(HOW_TO_READ))}</p></td>'
        f'<td width="50%">{lists}</td></tr></table>'
    )


def _list(title: str, lines: Sequence[str]) -> str:
    if not lines:
        return ""
    return _title(title) + "".join(f"<p>• {escape(line)}</p>" for line in lines)


def _title(words: str) -> str:
    return f'<p style="margin-top:6px"><b>{escape(words)}</b></p>'


def _picture(name: str, drawn: str, share: int, pictures: dict[str, str]) -> str:
    head, rest = drawn.split(">", 1)
    spelled = head if "xmlns" in head else f'{head} xmlns="http://www.w3.org/2000/svg"'
    pictures[name] = f"{spelled}><style>{style('pictures.css')}</style>{rest}"
    return f'<img src="{name}" width="{share}">'
