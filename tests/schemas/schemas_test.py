"""Holds every JSON output of the program to its schema in data/schemas, and the schemas to the program.

Usage: schemas_test.py PROGRAM SOURCE
The validator is a general one, Debian's python3-jsonschema, so that what it accepts is JSON Schema (draft 2020-12)
and not our reading of it.
"""
import collections
import json
import pathlib
import re
import sys
import time

from jsonschema import Draft202012Validator

import outputs
from mutations import mutations
from walk import Walk, all_nodes, may_be_null, shape

wrong = []


def check(good, *what):
    if not good:
        wrong.append(" ".join(map(str, what)))


def read_schemas(folder):
    """By the name that an output carries. Each is a good schema, and named alike everywhere."""
    schemas = {}
    for path in sorted(folder.iterdir()):
        schema = json.loads(path.read_text())
        Draft202012Validator.check_schema(schema)
        name, version = path.stem.rsplit("-", 1)
        check(schema["$schema"] == Draft202012Validator.META_SCHEMA["$id"], path.name, "is of another draft")
        check(schema["$id"] == f"urn:winkhold:{name}:{version}", path.name, "has another $id")
        check(schema["properties"]["schema"]["const"] == f"winkhold.{name}/{version}", path.name, "is of another output")
        for node in all_nodes(schema):
            is_described = "properties" not in node or node["additionalProperties"] is False and "required" in node
            check(is_described, path.name, "lets objects have other members:", node.get("description"))
            for member, inner in node.get("properties", {}).items():
                check("description" in inner or "$ref" in inner, path.name, member, "is not described")
        schemas[name] = schema
    return schemas


def check_names(schemas, lib):
    """A file for each schema that the library writes, and the other way round; its words are the library's."""
    sources = "".join(path.read_text() for path in sorted(lib.rglob("*.?pp")))
    written = set(re.findall(r'\\?"schema\\?"[^\n]*?\\?"winkhold\.([a-z-]+/\d+)', sources))
    named = {schema["properties"]["schema"]["const"].removeprefix("winkhold.") for schema in schemas.values()}
    check(written == named, "schemas and what the library writes differ:", written ^ named)
    enums = [[word for word in node["enum"] if word is not None]
             for schema in schemas.values() for node in all_nodes(schema) if "enum" in node]
    for words in enums:
        for word in words:
            check(f'"{word}"' in sources, f'"{word}" is in a schema, and not in the library')
    # and the other way round: every list of names that an output takes its words from; what is watched live is no output
    outputs = "".join(path.read_text() for path in sorted(lib.rglob("*.?pp")) if "live" not in path.parts)
    lists = re.findall(r"name\([^)]*\) \{\s*constexpr (?:std::string_view|auto) names\[\] = \{([^}]*)\}", outputs)
    lists += re.findall(r"string_view, \d+> (?:soak_kinds|soak_populations|soak_axes|blames)\{([^}]*)\}", sources)
    lists.append(",".join(re.findall(r'\{Blame::\w+, ("[^"]*")', sources)))
    caveats = "".join(path.read_text() for path in lib.glob("winkhold/taps/capture/detail/*.cpp"))
    lists.append(",".join(re.findall(r'(?:push_back\(|return)\s*\{("[a-z-]+"),', caveats)))
    for text in lists:
        names = set(re.findall(r'"([^"]*)"', text))
        check(names and any(names <= set(words) for words in enums), "no schema has all of these words:", sorted(names))


def note(walk, value, seen):
    """Notes which parts of the schema this value shows: of each member whether it was null."""
    for _, part, node, _ in walk.nodes(value):
        for member in part if isinstance(part, dict) else ():
            seen[id(node), member].add(part[member] is None)


# Only code that no command reaches writes it: every run of a soak has all kinds of figures.
never_null = {("soak", "ride")}


def check_coverage(name, schema, seen):
    """What no output shows is not known to be true."""
    for node in all_nodes(schema):
        for member, inner in node.get("properties", {}).items():
            wanted = {False, True} if may_be_null(inner) and (name, member) not in never_null else {False}
            said = f"{name}: {node.get('description', '')} {member}"
            check(seen[id(node), member] == wanted, said, "is written as null or not:", sorted(seen[id(node), member]))


def main(program, source):
    source = pathlib.Path(source)
    schemas = read_schemas(source / "data/schemas")
    check_names(schemas, source / "lib/host")
    validators = {name: Draft202012Validator(schema) for name, schema in schemas.items()}
    walks = {name: Walk(schema, lambda form, of=validators[name]: of.evolve(schema=form))
             for name, schema in schemas.items()}
    seen = collections.defaultdict(set)
    shapes = collections.defaultdict(dict)
    counts = collections.Counter()
    started = time.monotonic()
    for name, arguments, output in outputs.collect(program, source):
        counts[name] += 1
        errors = list(validators[name].iter_errors(output))
        for error in errors[:2]:
            check(False, arguments, error.json_path, error.message[:300])
        if not errors:
            short = walks[name].shortened(output)
            if shape(short) not in shapes[name]:
                shapes[name][shape(short)] = short
                note(walks[name], short, seen)
    check(set(counts) == set(schemas), "no output for", set(schemas) - set(counts))
    for name, schema in schemas.items():
        check_coverage(name, schema, seen)
    between = time.monotonic()

    refused = collections.Counter()
    tried = set()
    for name, of in shapes.items():
        for short in of.values():
            check(validators[name].is_valid(short), name, "is not valid any more when it is shortened")
            whole = {"output": short}
            for what in mutations(walks[name], whole):
                if (name, what) not in tried:
                    tried.add((name, what))
                    refused[name] += 1
                    check(not validators[name].is_valid(whole["output"]), name, what, "is not refused")
    for name in schemas:
        print(f"{name}: {counts[name]} outputs valid, {refused[name]} spoilt ones refused")
    print(f"{between - started:.1f} s + {time.monotonic() - between:.1f} s")
    for line in wrong[:60]:
        print(line, file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
