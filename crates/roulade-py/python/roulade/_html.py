"""Small pieces of HTML for notebooks."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape


def table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A table of texts."""
    head = "".join(f"<th>{escape(text)}</th>" for text in heads)
    body = "".join("<tr>" + "".join(f"<td>{escape(text)}</td>" for text in row) + "</tr>" for row in rows)
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def framed(page: str, height: int) -> str:
    """A page that stands by itself, with its own style and nothing that runs."""
    return (
        f'<iframe sandbox="" srcdoc="{escape(page)}" title="report" '
        f'style="width:100%;height:{height}px;border:1px solid #ccc"></iframe>'
    )
