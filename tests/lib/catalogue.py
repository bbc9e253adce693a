"""What is marked for translation, read from the sources, and what the catalogue holds."""

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from django.utils.translation.template import templatize

_CALLS = frozenset({"_", "gettext", "gettext_lazy", "gettext_noop", "ngettext", "ngettext_lazy"})
_PLURAL = frozenset({"ngettext", "ngettext_lazy"})
_ENTRY = re.compile(r'^(msgid|msgid_plural) ((?:"(?:[^"\\]|\\.)*"\n?)+)', re.MULTILINE)
# `templatize` turns marks into calls, with u before each quote.
_IN_TEMPLATE = re.compile(
    r"\b_?n?gettext\((u?'(?:[^'\\]|\\.)*'|u?\"(?:[^\"\\]|\\.)*\")(?:,\s*(u?'(?:[^'\\]|\\.)*'))?|\b_\((u?'(?:[^'\\]|\\.)*'|u?\"(?:[^\"\\]|\\.)*\")\)"
)


def marked_in_python(source: str) -> Iterator[tuple[int, str | None]]:
    """Each marked message with its line; None where no words stand in the mark to translate."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _CALLS:
            for argument in node.args[: 2 if node.func.id in _PLURAL else 1]:
                literal = isinstance(argument, ast.Constant) and isinstance(argument.value, str)
                yield node.lineno, argument.value if literal else None


def bare_refusals(source: str, errors: frozenset[str]) -> Iterator[tuple[int, str]]:
    """Each error for a user that is made of bare text, which no other language can tell, with its line."""
    for node in ast.walk(ast.parse(source)):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in errors):
            continue
        if node.args and _is_text(node.args[0]):
            yield node.lineno, ast.unparse(node.args[0])


def _is_text(node: ast.expr) -> bool:
    if isinstance(node, ast.BinOp):
        return _is_text(node.left) or _is_text(node.right)
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def errors_for_users(sources: Iterable[str]) -> frozenset[str]:
    """The names of every class of errors whose text a user reads."""
    kinds = {
        (node.name, base.id)
        for source in sources
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.ClassDef)
        for base in node.bases
        if isinstance(base, ast.Name)
    }
    found = {"UserError"}
    while more := {name for name, base in kinds if base in found} - found:
        found |= more
    return frozenset(found)


def marked_in_template(source: str) -> Iterator[str]:
    """Each message that a template marks."""
    for found in _IN_TEMPLATE.finditer(templatize(source)):
        for literal in found.groups():
            if literal:
                yield ast.literal_eval(literal)


def catalogue_messages(path: Path) -> set[str]:
    """Every message of the catalogue, plurals too, without its head."""
    read = (ast.literal_eval("(" + found.group(2) + ")") for found in _ENTRY.finditer(path.read_text()))
    return set(read) - {""}
