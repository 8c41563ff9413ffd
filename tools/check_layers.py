#!/usr/bin/env python3
"""The fourth lock on the layers: what #include may name, which CMake alone cannot see.

Reads kw_module() of each src/<module>/CMakeLists.txt and checks every #include below src:
  - kerfwright/<other>/... only when <other> stands in USES;
  - a third-party header only in a module that is its home, only where LIBRARY links it, and never in a
    public header;
  - no ../ in any path.
Tests may include any third-party library: an outside judge is welcome there.

Usage: check_layers.py [ROOT]
"""

from __future__ import annotations

import re
import sys
from dataclasses import dataclass, field
from pathlib import Path

from faults import Fault, finish, root_from, sources_in


@dataclass(frozen=True)
class Library:
    """A third-party library: how its headers and its CMake targets are called, and where it lives."""

    name: str
    headers: str  # regular expression on the path inside <> or ""
    targets: str  # regular expression on a name that CMake links
    homes: frozenset[str] | None  # None: any module
    linked: bool = True  # False: comes with the compiler, nothing to link


def library(name: str, headers: str, targets: str, *homes: str) -> Library:
    return Library(name, headers, targets, frozenset(homes))


# Homes as in docs/architecture.md. The kernel has one header a class, named Package_Class.hxx.
LIBRARIES = [
    Library("fmt", r"fmt/", r"fmt(::.*)?", None),
    library("toml++", r"toml\+\+/|toml\.hpp", r".*TOMLPLUSPLUS.*", "lumber", "piece"),
    library("CLP", r"(coin/)?(Clp|Coin|Osi)\w*\.(h|hpp)", r".*(CLP|Clp|COIN).*", "cutting"),
    library("Clipper", r"(polyclipping/)?clipper\.hpp", r".*(POLYCLIPPING|polyclipping).*", "solid"),
    library("Eigen", r"(eigen3/)?Eigen/", r"Eigen3::Eigen", "solid", "parts", "checks", "trade"),
    library("Open CASCADE", r"(opencascade/)?\w+\.hxx", r".*(OCCT|OpenCASCADE|OpenCascade).*|TK\w+", "solid"),
    library("Cairo", r"(cairo/)?cairo[\w-]*\.h", r".*(CAIRO|cairo).*", "planbook"),
    library("Pango", r"(pango/|hb|glib)", r".*(PANGO|pango).*", "planbook"),
    library("nlohmann-json", r"nlohmann/", r"nlohmann_json(::.*)?", "wire"),
    Library("PostgreSQL", r"libpq-fe\.h", r".*LIBPQ.*", frozenset({"store"}), linked=False),
    library("SQLite", r"sqlite3\.h", r".*(SQLITE|SQLite).*", "store"),
    library("Boost", r"boost/", r"Boost(::.*)?", "server"),
    library("qrcodegen", r"qrcodegen/", r".*QRCODEGEN.*", "server"),
    library("CLI11", r"CLI/", r"CLI11(::.*)?", "cli"),
    Library("threads", r"pthread\.h", r"Threads::Threads", None, linked=False),
    Library("the dynamic loader", r"dlfcn\.h", r".*CMAKE_DL_LIBS.*", frozenset({"solid", "store"}), linked=False),
    Library("the operating system", r"(sys|net|netinet|arpa)/|(unistd|fcntl|signal|poll|termios|ifaddrs)\.h", r"(?!)",
            frozenset({"store", "server", "cli"}), linked=False),
]

SUFFIXES = (".h", ".cpp")
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')
STANDARD = re.compile(r"[a-z_0-9]+|(assert|errno|float|limits|math|std\w+|string|time)\.h")
SCOPES = {"PRIVATE", "PUBLIC", "INTERFACE"}
ROLES = {"USES", "HEADERS", "SOURCES", "LIBRARY"}


@dataclass
class Module:
    """What a CMakeLists.txt says of a module."""

    name: str
    uses: set[str] = field(default_factory=set)
    tests_use: set[str] = field(default_factory=set)
    headers: set[str] = field(default_factory=set)
    links: set[str] = field(default_factory=set)


def calls_in(text: str, command: str) -> list[list[str]]:
    """The arguments of each call of a CMake command; comments are left out."""
    text = re.sub(r"#[^\n]*", "", text)
    bodies = re.findall(rf"\b{command}\s*\(([^()]*)\)", text)
    return [body.split() for body in bodies]


def roles_of(words: list[str]) -> dict[str, list[str]]:
    """Splits the arguments of kw_module or kw_tests by their keywords."""
    roles: dict[str, list[str]] = {role: [] for role in ROLES}
    role = ""
    for word in words:
        if word in ROLES:
            role = word
        elif role:
            roles[role].append(word)
    return roles


def read_module(folder: Path, root: Path, faults: list[Fault]) -> Module:
    """Reads a module's CMakeLists.txt: kw_module named after the folder, or a program (the command line),
    which uses the modules that it links."""
    lists = folder / "CMakeLists.txt"
    text = lists.read_text(encoding="utf-8")
    module = Module(folder.name)
    declared = calls_in(text, "kw_module")
    is_program = not declared and bool(calls_in(text, "add_executable"))
    if not is_program and [words[0] for words in declared if words] != [folder.name]:
        where = str(lists.relative_to(root))
        faults.append(Fault(where, 0, f"must declare one module, named {folder.name}"))
        return module
    roles = roles_of(declared[0] if declared else [])
    linked = linked_below(folder)
    module.uses = set(roles["USES"])
    if is_program:
        module.uses = {word.removeprefix("kw_") for word in linked if word.startswith("kw_")}
    module.headers = set(roles["HEADERS"])
    module.links = set(roles["LIBRARY"]) | {word for word in linked if not word.startswith("kw_")}
    for words in calls_in(text, "kw_tests"):
        module.tests_use |= set(roles_of(words)["USES"])
    return module


def linked_below(folder: Path) -> set[str]:
    """What target_link_libraries names; a module may hold a part that is loaded only when needed."""
    words: set[str] = set()
    for lists in sorted(folder.rglob("CMakeLists.txt")):
        for call in calls_in(lists.read_text(encoding="utf-8"), "target_link_libraries"):
            words |= set(call[1:]) - SCOPES
    return words


def link_faults(module: Module, where: str) -> list[Fault]:
    """Libraries linked that no row of the table knows, or that live elsewhere."""
    faults = []
    for link in sorted(module.links):
        known = [lib for lib in LIBRARIES if re.fullmatch(lib.targets, link)]
        if not known:
            faults.append(Fault(where, 0, f"links {link}, which tools/check_layers.py does not know"))
        elif all(lib.homes is not None and module.name not in lib.homes for lib in known):
            homes = ", ".join(sorted(known[0].homes or ()))
            faults.append(Fault(where, 0, f"links {link}; the home of {known[0].name} is {homes}"))
    return faults


def own_fault(module: Module, other: str, is_test: bool) -> str:
    """Why kerfwright/<other>/ may not be included here, or nothing."""
    allowed = module.uses | {module.name} | (module.tests_use if is_test else set())
    if other in allowed:
        return ""
    return f"{module.name} may not include kerfwright/{other}/: {other} is not in its USES"


def outside_fault(module: Module, header: str, is_public: bool) -> str:
    """Why a header that is not ours may not be included here, or nothing."""
    library = next((lib for lib in LIBRARIES if re.match(lib.headers, header)), None)
    if library is None:
        if STANDARD.fullmatch(header):
            return ""
        return f"{header} belongs to no library that tools/check_layers.py knows"
    if library.homes is not None and module.name not in library.homes:
        homes = ", ".join(sorted(library.homes))
        return f"{header} belongs to {library.name}, whose home is {homes}, not {module.name}"
    if is_public:
        return f"{header} belongs to {library.name}: a third-party type stays out of public headers"
    if library.linked and not any(re.fullmatch(library.targets, link) for link in module.links):
        return f"{header} belongs to {library.name}, which the module's LIBRARY does not link"
    return ""


def include_fault(module: Module, file: Path, folder: Path, quote: str, header: str) -> str:
    """Why this #include may not stand in this file, or nothing."""
    inside = file.relative_to(folder).parts
    is_test = inside[0] == "tests"
    if ".." in header.split("/"):
        return f"{header}: no path may climb with ../"
    if header.startswith("kerfwright/"):
        return own_fault(module, header.split("/")[1], is_test)
    is_private = quote == '"' and any((place / header).is_file() for place in (file.parent, folder))
    if is_test or is_private:
        return ""
    return outside_fault(module, header, inside[0] == "include")


def include_faults(module: Module, folder: Path, root: Path) -> list[Fault]:
    """Every forbidden #include of a module."""
    faults = []
    for file in sources_in(folder, SUFFIXES):
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1):
            found = INCLUDE.match(line)
            message = include_fault(module, file, folder, *found.groups()) if found else ""
            if message:
                faults.append(Fault(str(file.relative_to(root)), number, message))
    return faults


def header_faults(module: Module, folder: Path, root: Path) -> list[Fault]:
    """Public headers that HEADERS does not list are never compiled alone (the third lock)."""
    own = folder / "include" / "kerfwright" / module.name
    faults = []
    for file in sources_in(folder / "include", SUFFIXES):
        listed = own in file.parents and file.relative_to(own).as_posix() in module.headers
        if not listed:
            message = f"a public header that HEADERS of {module.name} does not list"
            faults.append(Fault(str(file.relative_to(root)), 0, message))
    return faults


def climb_faults(root: Path) -> list[Fault]:
    """Includes with ../ in the code outside the modules."""
    faults = []
    for file in (f for name in ("tests", "fuzz", "bench") for f in sources_in(root / name, SUFFIXES)):
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1):
            found = INCLUDE.match(line)
            if found and ".." in found.group(2).split("/"):
                where = str(file.relative_to(root))
                faults.append(Fault(where, number, f"{found.group(2)}: no path may climb with ../"))
    return faults


def check(root: Path) -> tuple[int, list[Fault]]:
    """The number of modules and everything wrong with the tree."""
    folders = sorted(p.parent for p in (root / "src").glob("*/CMakeLists.txt"))
    faults = climb_faults(root)
    for folder in folders:
        module = read_module(folder, root, faults)
        faults += link_faults(module, str((folder / "CMakeLists.txt").relative_to(root)))
        faults += include_faults(module, folder, root)
        faults += header_faults(module, folder, root)
    return len(folders), faults


def main() -> int:
    count, faults = check(root_from(sys.argv))
    return finish("layers", f"{count} modules", faults)


if __name__ == "__main__":
    sys.exit(main())
