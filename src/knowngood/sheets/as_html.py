"""A sheet as one HTML page that prints black on white and asks for nothing from elsewhere."""

from __future__ import annotations

from html import escape

from knowngood.sheets.sheet import Block, Items, Lines, Picture, Sheet, Signature, Table, Words

STYLE = """
@page { size: A4; margin: 16mm }
body { font: 18px/1.4 serif; color: #000; background: #fff; max-width: 44rem; margin: 1rem auto; padding: 0 1rem }
h1 { font-size: 1.6rem; margin: 0 } h2 { font-size: 1.15rem; margin: 1.2rem 0 .3rem } .when { margin: 0 0 1rem }
.strong { font-size: 1.25rem; font-weight: bold } .small { font-size: 1rem }
ul { padding-left: 1.2rem } .boxes { list-style: none; padding-left: 0 }
.boxes li { padding-left: 1.8rem; position: relative; margin: .4rem 0 }
.boxes li::before { content: ""; position: absolute; left: 0; top: .15rem; width: 1rem; height: 1rem;
  border: 2px solid #000 }
table { border-collapse: collapse; width: 100% }
th, td { text-align: left; border-bottom: 1px solid #000; padding: .2rem .4rem; vertical-align: top }
.fill td { height: 2rem; border: 1px solid #000 } hr { border: 0; border-bottom: 1px solid #000; margin: 2rem 0 0 }
svg { max-width: 100%; height: auto }
""".strip()


def as_html(sheet: Sheet) -> str:
    """The sheet as a whole page; every word on it is escaped."""
    body = "\n".join(_block(block) for block in sheet.blocks)
    foot = f'<p class="small">{escape(sheet.foot)}</p>' if sheet.foot else ""
    title = escape(f"{sheet.title}: {sheet.car}")
    return (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}</title>\n<style>\n{STYLE}\n</style></head><body>\n"
        f'<h1>{escape(sheet.title)}</h1>\n<p class="when">{escape(sheet.car)}, {escape(sheet.date)}</p>\n'
        f"{body}\n{foot}\n</body></html>\n"
    )


def _heading(text: str) -> str:
    return f"<h2>{escape(text)}</h2>\n" if text else ""


def _block(block: Block) -> str:
    match block:
        case Words(text=text, strong=strong, small=small):
            kind = ' class="strong"' if strong else ' class="small"' if small else ""
            return f"<p{kind}>{escape(text)}</p>"
        case Items(heading=heading, rows=rows, boxes=boxes, small=small):
            items = "\n".join(f"<li>{escape(row)}</li>" for row in rows)
            kind = ' class="boxes"' if boxes else ' class="small"' if small else ""
            return f"{_heading(heading)}<ul{kind}>\n{items}\n</ul>"
        case Table(heading=heading, head=head, rows=rows, to_fill=to_fill):
            top = "".join(f"<th>{escape(cell)}</th>" for cell in head)
            lines = "\n".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
            kind = ' class="fill"' if to_fill else ""
            return f"{_heading(heading)}<table{kind}>\n<tr>{top}</tr>\n{lines}\n</table>"
        case Lines(heading=heading, count=count):
            return _heading(heading) + "<hr>" * count
        case Picture(heading=heading, svg=svg, words=words):
            said = escape(" ".join(words))
            return f'{_heading(heading)}<div role="img" aria-label="{said}">{svg}</div>'
        case Signature(who=who):
            return "\n".join(f"<p>{escape(name)}, date, signature</p><hr>" for name in who)
