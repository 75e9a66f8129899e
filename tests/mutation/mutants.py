"""Mutants of the program's functions, made by mutmut's operators and drawn at random.

A mutant is one changed place in one function. Which changes there are is decided by mutmut alone
(`mutmut.mutation`), so that nobody tunes them to what the tests see; like mutmut this leaves
out decorated functions and what stands outside functions. A draw takes those with the smallest
hashes of seed and change: each equally likely, and a change elsewhere in the program leaves the
rest of the draw as it was.
"""

from __future__ import annotations

import ast
import hashlib
import json
import tomllib
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from functools import cached_property
from pathlib import Path
from types import CodeType

import libcst as cst
from libcst.metadata import MetadataWrapper
from mutmut.mutation.file_mutation import Mutation, MutationVisitor
from mutmut.mutation.mutators import mutation_operators
from mutmut.mutation.pragma_handling import IgnoredCode

HERE = Path(__file__).parent
ROOT = HERE.parents[1]


@dataclass(frozen=True)
class Source:
    """One file with its tree and all mutations of it."""

    path: Path
    text: str
    module: cst.Module
    owners: dict[int, str]
    mutations: tuple[Mutation, ...]

    @classmethod
    def read(cls, path: Path) -> Source:
        """Parse a file and make its mutations."""
        text = path.read_text(encoding="utf-8")
        visitor = MutationVisitor(mutation_operators, IgnoredCode(set(), set(), set()))
        module = MetadataWrapper(cst.parse_module(text)).visit(visitor)
        return cls(path, text, module, dict(owners(module)), tuple(visitor.mutations))

    @cached_property
    def tree(self) -> ast.Module:
        """The file's syntax tree, for line numbers."""
        return ast.parse(self.text)

    @property
    def name(self) -> str:
        """Path below the root, with slashes."""
        return self.path.relative_to(ROOT).as_posix()


def owners(module: cst.Module) -> Iterator[tuple[int, str]]:
    """The functions and methods of a module by the identity of their node."""
    for node in module.body:
        if isinstance(node, cst.FunctionDef):
            yield id(node), node.name.value
        elif isinstance(node, cst.ClassDef):
            for part in node.body.body:
                if isinstance(part, cst.FunctionDef):
                    yield id(part), f"{node.name.value}.{part.name.value}"


@dataclass(frozen=True)
class Drawn:
    """A mutant that is to be tried, as plain values.

    Parameters
    ----------
    key : str
        Names the change whatever else the file holds.
    file, owner : str
        Path below the root; function, or class and method.
    text : str
        The whole file with the change.
    line : int
        Where the file differs first.
    change : tuple of str
        The lines that differ, before and after.
    first, last : int
        Lines of the statement around the change; of the whole function for a default.
    """

    key: str
    file: str
    owner: str
    text: str
    line: int
    change: tuple[str, str]
    first: int
    last: int

    @property
    def place(self) -> str:
        """File and function."""
        return f"{self.file}:{self.owner}"


@dataclass(frozen=True)
class Mutant:
    """One change: where it is, what stood there and what stands there now."""

    source: Source
    mutation: Mutation
    owner: str
    before: str
    after: str
    number: int

    @property
    def key(self) -> str:
        """Names the change whatever else the file holds."""
        return f"{self.source.name}:{self.owner}: {self.before} => {self.after} #{self.number}"

    def rank(self, seed: int) -> str:
        """Place in a draw."""
        return hashlib.sha256(f"{seed} {self.key}".encode()).hexdigest()

    @cached_property
    def text(self) -> str:
        """The whole file with the change."""
        mutation = self.mutation
        changed = self.source.module.deep_replace(mutation.original_node, mutation.mutated_node)
        assert isinstance(changed, cst.Module)
        return changed.code

    @cached_property
    def lines(self) -> tuple[int, int]:
        """First and last line of the file that differ."""
        old, new = self.source.text.splitlines(), self.text.splitlines()
        first = next((i for i, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), 0)
        tail = next((i for i, (a, b) in enumerate(
            zip(reversed(old[first:]), reversed(new[first:]), strict=False)) if a != b), 0)
        return first + 1, max(first + 1, len(old) - tail)

    @property
    def change(self) -> tuple[str, str]:
        """The lines that differ, before and after, without their indents."""
        first, last = self.lines
        old, new = self.source.text.splitlines(), self.text.splitlines()
        grown = len(new) - len(old)
        return (" ".join(line.strip() for line in old[first - 1:last]),
                " ".join(line.strip() for line in new[first - 1:max(first, last + grown)]))

    @property
    def statement(self) -> range:
        """Lines of the innermost statement around the change: its head, or a whole function."""
        first, last = self.lines
        best = range(first, last + 1)
        for node in ast.walk(self.source.tree):
            if isinstance(node, ast.stmt) and node.lineno <= first <= (node.end_lineno or 0):
                body = getattr(node, "body", None)
                end = body[0].lineno - 1 if body else (node.end_lineno or first)
                if isinstance(node, ast.FunctionDef) and first <= end:
                    # A default takes effect when the function is called.
                    best = range(node.lineno, (node.end_lineno or end) + 1)
                elif first <= end:
                    best = range(node.lineno, max(end, node.lineno) + 1)
        return best


    def drawn(self) -> Drawn:
        """The mutant as plain values."""
        lines = self.statement
        return Drawn(self.key, self.source.name, self.owner, self.text, self.lines[0], self.change,
                     lines.start, lines.stop - 1)


def mutants_of(source: Source) -> Iterator[Mutant]:
    """All mutants of a file's functions."""
    seen: Counter[tuple[str, str, str]] = Counter()
    for mutation in source.mutations:
        owner = source.owners.get(id(mutation.contained_by_top_level_function))
        if owner is None:
            continue
        before = source.module.code_for_node(mutation.original_node)
        after = source.module.code_for_node(mutation.mutated_node)
        seen[owner, before, after] += 1
        yield Mutant(source, mutation, owner, before, after, seen[owner, before, after])


def all_mutants(folder: Path) -> list[Mutant]:
    """All mutants of the files below a folder."""
    return [mutant for path in sorted(folder.rglob("*.py"))
            for mutant in mutants_of(Source.read(path))]


def code_of(text: str, name: str, owner: str) -> CodeType:
    """Compiled code of a function or method of a file's text."""
    found = compile(text, name, "exec")
    for part in owner.split("."):
        found = next(const for const in reversed(found.co_consts)
                     if isinstance(const, CodeType) and const.co_name == part)
    return found


def same(a: CodeType, b: CodeType) -> bool:
    """Whether two functions compile to the same, whatever lines they stand on."""
    if (a.co_code, a.co_names, a.co_varnames, len(a.co_consts)) != (
            b.co_code, b.co_names, b.co_varnames, len(b.co_consts)):
        return False
    return all(same(x, y) if isinstance(x, CodeType) and isinstance(y, CodeType)
               else type(x) is type(y) and repr(x) == repr(y)
               for x, y in zip(a.co_consts, b.co_consts, strict=True))


def defaults_of(text: str, owner: str) -> list[str]:
    """The default values of a function's parameters, as written."""
    body: list[ast.stmt] = ast.parse(text).body
    node: ast.stmt | None = None
    for part in owner.split("."):
        node = next(n for n in reversed(body) if getattr(n, "name", None) == part)
        body = getattr(node, "body", [])
    assert isinstance(node, ast.FunctionDef)
    return [ast.unparse(d) if d else "" for d in [*node.args.defaults, *node.args.kw_defaults]]


def is_prose(node: cst.CSTNode) -> bool:
    """Whether a node is a text of several words."""
    return (isinstance(node, cst.SimpleString) and isinstance(node.evaluated_value, str)
            and " " in node.evaluated_value.strip())


def rule_aside(mutant: Mutant) -> str | None:
    """The rule by which a mutant is set aside, if there is one; see `RULES`."""
    old, new = mutant.mutation.original_node, mutant.mutation.mutated_node
    if is_prose(old) and isinstance(new, cst.SimpleString):
        return "wording"
    if isinstance(old, cst.Call) and isinstance(new, cst.Call) and isinstance(old.func, cst.Name):
        name = old.func.value
        if name == "cast" and old.args[-1].deep_equals(new.args[-1]):
            return "cast"
        if name == "zip" and without_strict(old) == without_strict(new):
            return "strict"
    source = mutant.source
    if isinstance(old, cst.Name) and mutant.before == "True" and "strict=True" in mutant.change[0] \
            and "strict=False" in mutant.change[1]:
        return "strict"
    if same(code_of(source.text, source.name, mutant.owner),
            code_of(mutant.text, source.name, mutant.owner)) \
            and defaults_of(source.text, mutant.owner) == defaults_of(mutant.text, mutant.owner):
        return "bytecode"
    return None


def without_strict(call: cst.Call) -> list[str]:
    """The arguments of a call but for `strict`."""
    empty = cst.Module([])
    return [empty.code_for_node(arg.value) for arg in call.args
            if arg.keyword is None or arg.keyword.value != "strict"]


RULES = {
    "wording": "changes only how a sentence for a person is worded, which no test should hold",
    "cast": "changes only what the type checker is told",
    "strict": "only guards against lists of unequal length, which the callers never pass",
    "bytecode": "compiles to the same code",
}


def judged() -> dict[str, dict[tuple[str, str, str], str]]:
    """Mutants judged one by one: reasons by list (`equivalent`, `left`), place and change."""
    text = (HERE / "judged.toml").read_text(encoding="utf-8")
    found: dict[str, dict[tuple[str, str, str], str]] = {"equivalent": {}, "left": {}}
    kept = tomllib.loads(text)
    for name in found:
        for entry in kept[name]:
            for before, after in entry["changes"]:
                found[name][entry["place"], before, after] = entry["reason"]
    return found


def judged_constants() -> dict[str, str]:
    """Why no test holds a constant, by file and name."""
    entries = tomllib.loads((HERE / "judged.toml").read_text(encoding="utf-8"))["constants"]
    return {place: entry["reason"] for entry in entries for place in entry["places"]}


@dataclass(frozen=True)
class Draw:
    """A drawn sample: what is tried, what was set aside with the reason, of how many in all."""

    taken: list[Drawn]
    aside: list[tuple[str, str]]
    whole: int
    digest: str


def draw(folder: Path, count: int, seed: int, store: Path) -> Draw:
    """Draw mutants until so many are left that count; a draw from the same sources is read back."""
    digest = digest_of([*sorted(folder.rglob("*.py")), HERE / "judged.toml", Path(__file__)],
                       f"{count} {seed}")
    known = read_draw(store)
    if known and known.digest == digest:
        return known
    equivalent = judged()["equivalent"]
    taken: list[Drawn] = []
    aside: list[tuple[str, str]] = []
    everything = all_mutants(folder)
    for mutant in sorted(everything, key=lambda m: m.rank(seed)):
        if len(taken) == count:
            break
        rule = rule_aside(mutant)
        reason = RULES[rule] if rule else equivalent.get(
            (f"{mutant.source.name}:{mutant.owner}", *mutant.change))
        if reason:
            aside.append((mutant.key, reason))
        else:
            taken.append(mutant.drawn())
    made = Draw(taken, aside, len(everything), digest)
    store.write_text(json.dumps(asdict(made)), encoding="utf-8")
    return made


def read_draw(store: Path) -> Draw | None:
    """A draw that was written, or None."""
    if not store.exists():
        return None
    found = json.loads(store.read_text(encoding="utf-8"))
    taken = [Drawn(**{**entry, "change": tuple(entry["change"])}) for entry in found["taken"]]
    return Draw(taken, [(key, reason) for key, reason in found["aside"]], found["whole"],
                found["digest"])


def digest_of(files: list[Path], more: str = "") -> str:
    """A digest of some files."""
    digest = hashlib.sha256(more.encode())
    for path in files:
        digest.update(str(path).encode() + path.read_bytes())
    return digest.hexdigest()
