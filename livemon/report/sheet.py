"""The sheet: one page for the athlete, in HTML that needs nothing else.

Plain words first, then what was done, what it means, how sure that is, what next, and the
cautions. Names and notes are escaped; pictures are drawn here; nothing is fetched.
"""

import re
from dataclasses import dataclass
from html import escape, unescape
from importlib.resources import files
from typing import Final

from livemon.analyse.session import AthleteAnalysis, AthleteRecord, BoutAnalysis
from livemon.report.bout_picture import AFTER_S, BEFORE_S, bout_picture
from livemon.report.bout_words import facts_of, what_of, word_of
from livemon.report.cautions import cautions
from livemon.report.figures import clock
from livemon.report.findings import Findings, find
from livemon.report.pace_picture import HOW_TO_READ, pace_picture, pace_title
from livemon.report.timeline import line_key, session_picture
from livemon.report.traces import extent
from livemon.report.words import MEANING, ONE_WORD
from livemon.tongue import said, said_n, spoken_language

ONE_ROW: Final = 4  #: so few bouts leave room for larger letters on paper
#: So many characters still leave room for them; 2514 filled a page, 2601 began a second one.
MOST_LETTERS: Final = 2400
MOST_BOUTS: Final = 8  #: more don't fit on one page; the last ones are shown
_NOT_READ: Final = re.compile(r"<svg.*?</svg>|<[^>]*>", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Heading:
    """Who and when, as the coach wrote it.

    Attributes:
        when: date and time in words.
        title: what the session was called; may be empty.
        note: the coach's own words to the athlete; may be empty.
    """

    name: str
    when: str
    title: str = ""
    note: str = ""


def sheet_html(heading: Heading, record: AthleteRecord, analysis: AthleteAnalysis) -> str:
    """Write the whole page."""
    findings = find(analysis, record.idle_sites)
    css = style("pictures.css") + style("sheet.css")
    title = escape(f"{heading.name}, {heading.when}")
    body = "\n".join(
        part
        for part in (
            _head(heading),
            f"<h1>{escape(findings.headline)}</h1>",
            _paragraphs(findings.meaning, "lead"),
            _paragraphs((heading.note,) if heading.note else (), "note"),
            _session(record),
            _bouts(record, analysis),
            _more(findings, analysis),
            _footer(),
        )
        if part
    )
    language = escape(spoken_language())
    few = len(analysis.bouts) <= ONE_ROW and _letters(body) <= MOST_LETTERS
    room = ' class="few"' if few else ""
    return (
        f'<!doctype html>\n<html lang="{language}"{room}>\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}</title>\n<style>\n{css}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def _letters(body: str) -> int:
    """Return how much there is to read beside the pictures; other languages need more than ours."""
    return len(unescape(_NOT_READ.sub("", body)))


def style(name: str) -> str:
    """Return one of our style sheets."""
    return files("livemon.report").joinpath(name).read_text(encoding="utf-8")


def _head(heading: Heading) -> str:
    right = " · ".join(escape(part) for part in (heading.title, heading.when) if part)
    return f"<header><strong>{escape(heading.name)}</strong><span>{right}</span></header>"


def _paragraphs(lines: tuple[str, ...], kind: str) -> str:
    return "".join(f'<p class="{kind}">{escape(line)}</p>' for line in lines)


def _session(record: AthleteRecord) -> str:
    drawn = session_picture(record)
    if not drawn:
        return ""
    key = "".join(f"<span>{sample}{escape(name)}</span>" for sample, name in line_key(record))
    return f'<figure class="session"><figcaption class="key">{key}</figcaption>{drawn}</figure>'


def _bouts(record: AthleteRecord, analysis: AthleteAnalysis) -> str:
    shown = analysis.bouts[-MOST_BOUTS:]
    if not shown or not record.smo2:
        return ""
    start_s = min(b.bout.start_s for b in shown) - BEFORE_S
    end_s = max(b.bout.end_s for b in shown) + AFTER_S
    levels = extent(list(record.smo2.values()), start_s, end_s, least=20)
    if levels is None:
        return ""
    cells = "\n".join(_bout(found, record, levels) for found in shown)
    return (
        f'<h2>{escape(said("Bout by bout"))}</h2>\n<div class="bouts">\n{cells}\n</div>\n'
        f'<p class="legend">{legend(analysis)}</p>'
    )


def legend(analysis: AthleteAnalysis) -> str:
    """Explain, as HTML, the words and lines of the bouts that are shown."""
    shown = analysis.bouts[-MOST_BOUTS:]
    words = dict.fromkeys(m.word.balance for b in shown for m in b.muscles)
    meanings = "; ".join(
        f"<b>{escape(said(ONE_WORD[w]))}</b>: {escape(said(MEANING[w]))}" for w in words
    )
    lines = said("Lines: muscle oxygen, %; grey: work; wedge: the trend and how sure it is.")
    parts = [f"{meanings}.", escape(lines)]
    if left_out := len(analysis.bouts) - len(shown):
        parts.append(escape(_not_shown(left_out)))
    return " ".join(parts)


def _not_shown(count: int) -> str:
    return said_n("The first {n} bout is not shown.", "The first {n} bouts are not shown.", count)


def _bout(found: BoutAnalysis, record: AthleteRecord, levels: tuple[float, float]) -> str:
    bout = found.bout
    lines = "<br>".join(escape(fact) for fact in facts_of(found, record))
    return (
        f'<div class="bout"><div class="title"><b>{bout.number}</b>'
        f"<span>{escape(what_of(found))}</span><span>{clock(bout.duration_s)}</span></div>"
        f'<p class="word">{escape(word_of(found, record))}</p>'
        f"{bout_picture(found, record.smo2, levels)}"
        f'<div class="facts">{lines}</div></div>'
    )


def _more(findings: Findings, analysis: AthleteAnalysis) -> str:
    drawn = [(p, d) for p in analysis.paces if (d := pace_picture(p.pace, p.site))]
    columns = [
        _section(said("What next"), findings.next_time),
        _section(said("How sure"), findings.sureness),
    ]
    if drawn:
        found, picture = drawn[0]
        words = f"<p>{escape(said(HOW_TO_READ))}</p>"
        pace = f"<section><h2>{escape(pace_title(found))}</h2>{picture}{words}</section>"
        return f'<div class="two">{pace}<section>{"".join(columns)}</section></div>'
    return f'<div class="two">{"".join(f"<section>{c}</section>" for c in columns if c)}</div>'


def _section(title: str, lines: tuple[str, ...]) -> str:
    if not lines:
        return ""
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    return f"<h2>{escape(title)}</h2><ul>{items}</ul>"


def _footer() -> str:
    return f"<footer>{escape(cautions())}</footer>"
