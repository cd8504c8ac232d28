"""An author's markdown as plain blocks that a typesetter's template can set."""

from collections.abc import Iterator, Sequence
from functools import lru_cache

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markdown_it.tree import SyntaxTreeNode

_markdown = MarkdownIt("commonmark", {"html": False}).enable("table").disable("image")

Run = dict[str, object]
Block = dict[str, object]


@lru_cache(maxsize=64)  # every sheet of a packet has the same texts
def blocks_of(text: str) -> tuple[Block, ...]:
    """The text as blocks in order: {"kind": "paragraph" | "heading" | "item", "mark", "runs"}.

    mark: what stands before a list's item. A run is {"text", "strong", "emphasis"}. A row of a table is a
    paragraph with its cells parted by bars. Links keep their words and lose their address. Blocks are kept:
    change none.
    """
    return tuple(_blocks(SyntaxTreeNode(_markdown.parse(text))))


def _blocks(node: SyntaxTreeNode, mark: str = "") -> Iterator[Block]:
    for child in node.children:
        match child.type:
            case "bullet_list" | "ordered_list":
                yield from _items(child)
            case "tr":
                yield _block("paragraph", "", _cells(child))
            case "inline":
                kind = "heading" if node.type == "heading" else "item" if mark else "paragraph"
                yield _block(kind, mark, _runs(_inline(child)))
                mark = ""
            case "fence" | "code_block":
                yield _block("paragraph", "", [_run(child.content.rstrip("\n"))])
            case _:
                yield from _blocks(child, mark)
                mark = ""


def _items(items: SyntaxTreeNode) -> Iterator[Block]:
    first = int(items.attrs.get("start", 1))
    for place, item in enumerate(items.children):
        yield from _blocks(item, "•" if items.type == "bullet_list" else f"{first + place}.")


def _cells(row: SyntaxTreeNode) -> list[Run]:
    runs: list[Run] = []
    for cell in row.children:
        runs += [_run(" | ")] * bool(runs)
        runs += [run for inline in cell.children for run in _runs(_inline(inline))]
    return runs


def _inline(node: SyntaxTreeNode) -> Sequence[Token]:
    return (node.token.children if node.token else None) or ()


def _runs(tokens: Sequence[Token]) -> list[Run]:
    runs, strong, emphasis = [], 0, 0
    for token in tokens:
        match token.type:
            case "strong_open" | "strong_close":
                strong += token.nesting
            case "em_open" | "em_close":
                emphasis += token.nesting
            case "softbreak":
                runs.append(_run(" "))
            case "hardbreak":
                runs.append(_run("\n"))
            case _ if token.content:
                runs.append(_run(token.content, strong=strong > 0, emphasis=emphasis > 0))
    return runs


def _block(kind: str, mark: str, runs: list[Run]) -> Block:
    return {"kind": kind, "mark": mark, "runs": runs}


def _run(text: str, *, strong: bool = False, emphasis: bool = False) -> Run:
    return {"text": text, "strong": strong, "emphasis": emphasis}
