"""Outputs with one thing spoilt, which a schema must refuse."""

# Members that an output may be without, whatever else is in it.
may_be_left_out = {"caveats", "disagreements", "at_least", "assumed", "still_example", "lamp_warnings"}


def mutations(walk, whole):
    """Yields what is spoilt in whole["output"], which is so meanwhile. Places in a list are told alike."""
    for path, part, node, nullable in list(walk.nodes(whole["output"], path=("output",))):
        where = (*(name for name in path if isinstance(name, str)), type(part).__name__)
        holder = whole
        for step in path[:-1]:
            holder = holder[step]
        for what, other in spoilt(part, node, nullable):
            holder[path[-1]] = other
            yield where, what
            holder[path[-1]] = part


def spoilt(part, node, nullable):
    yield "another type", {"str": 1, "bool": "true", "int": "1", "float": "1", "NoneType": [], "list": {},
                           "dict": "x"}[type(part).__name__]
    if isinstance(part, dict):
        yield "a member more", {**part, "none of ours": 1}
        for name in part.keys() - may_be_left_out:
            yield f"without {name}", {other: of for other, of in part.items() if other != name}
    if not nullable:
        yield "null", None
    if "enum" in node or "const" in node or "pattern" in node:
        yield "no such word", "no such word"
    if "minimum" in node:
        yield "too low", node["minimum"] - 1
    if "exclusiveMinimum" in node:
        yield "too low", node["exclusiveMinimum"]
    if "maximum" in node:
        yield "too high", node["maximum"] + 1
    if "integer" in node.get("type", []) and part is not None:
        yield "no whole number", 0.5
    if node.get("minLength") == 1:
        yield "empty", ""
    if isinstance(part, list):
        yield "a wrong item", [*part, {"none of ours": 1}]
        if node.get("minItems"):
            yield "too few", part[:node["minItems"] - 1]
