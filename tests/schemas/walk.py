"""An output and its schema side by side: which part of the schema describes which value."""


class Walk:
    """Visits each value with the node of the schema that describes it. `part_validator(node)` validates by one
    node; where a node has several forms, that one counts which the value has."""

    def __init__(self, schema, part_validator):
        self.schema = schema
        self.part_validator = part_validator

    def nodes(self, value, node=None, path=()):
        """Yields (path, value, node, whether null would do) of `value` and all that is in it."""
        outer = self.schema if node is None else node
        node = self.resolved(value, outer)
        yield path, value, node, may_be_null(outer)
        if isinstance(value, dict):
            for name, member in value.items():
                yield from self.nodes(member, node["properties"][name], (*path, name))
        elif isinstance(value, list):
            for i, item in enumerate(value):
                yield from self.nodes(item, node["items"], (*path, i))

    def shortened(self, value, node=None):
        """The same with one item of each shape in every list that may be shorter, so that it is quickly validated."""
        node = self.resolved(value, self.schema if node is None else node)
        if isinstance(value, dict):
            return {name: self.shortened(member, node["properties"][name]) for name, member in value.items()}
        if isinstance(value, list) and node.get("minItems", 0) < 2 and not (value and isinstance(value[0], str)):
            kept = {}
            for item in value:
                kept.setdefault(shape(item), self.shortened(item, node["items"]))
            return list(kept.values())
        return value

    def resolved(self, value, node):
        while "$ref" in node or "oneOf" in node and "properties" not in node:
            if "$ref" in node:
                node = self.schema["$defs"][node["$ref"].removeprefix("#/$defs/")]
            else:
                node = next(form for form in node["oneOf"] if self.part_validator(form).is_valid(value))
        return node


def may_be_null(node):
    return "null" in node.get("type", []) or {"type": "null"} in node.get("oneOf", [])


def all_nodes(node):
    """Every node of a schema that describes a value."""
    if isinstance(node, dict):
        if "description" in node or "type" in node:
            yield node
        for name, inner in node.items():
            if name in ("properties", "$defs"):
                for part in inner.values():
                    yield from all_nodes(part)
            elif name == "items":
                yield from all_nodes(inner)
            elif name == "oneOf" and "properties" not in node:
                for part in inner:
                    yield from all_nodes(part)


def shape(value):
    """What a value looks like, without its numbers and texts."""
    if isinstance(value, dict):
        return tuple((name, shape(member)) for name, member in value.items())
    if isinstance(value, list):
        return ("list", *sorted({shape(item) for item in value}, key=repr))
    return type(value).__name__
