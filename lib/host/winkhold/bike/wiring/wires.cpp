#include "winkhold/bike/wiring/wires.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Kind = WireEnd::Kind;

constexpr std::array all_kinds{Kind::tap,      Kind::pin,    Kind::lamps, Kind::battery,
                               Kind::switched, Kind::ground, Kind::board, Kind::part};

/// What a table's wires are made from: each field once for all of them, or one for each.
class Cable {
public:
    explicit Cable(TomlFields& fields) : fields_(fields) {}

    void texts(std::string_view name) {
        Column* column = begin(name);
        if (column == nullptr) return;
        if (!column->at->is_array()) return fields_.text(name, column->texts.emplace_back());
        fields_.texts(name, column->texts);
        count(*column, column->texts.size());
    }

    void numbers(std::string_view name, double least, double most) {
        Column* column = begin(name);
        if (column == nullptr) return;
        if (!column->at->is_array()) return fields_.number(name, least, most, column->numbers.emplace_back());
        fields_.numbers(name, least, most, column->numbers);
        count(*column, column->numbers.size());
    }

    std::size_t wires() const { return std::max<std::size_t>(1, wires_); }

    std::string text(std::string_view name, std::size_t wire) const {
        const Column* column = find(name);
        if (column == nullptr) return {};
        return column->texts[column->at->is_array() ? wire : 0];
    }

    std::optional<double> number(std::string_view name, std::size_t wire) const {
        const Column* column = find(name);
        if (column == nullptr) return {};
        return column->numbers[column->at->is_array() ? wire : 0];
    }

    WireEnd end(std::string_view name, std::size_t wire) const {
        const Column* column = find(name);
        if (column == nullptr)
            fields_.refuse(name, fields_.table(), "missing; say what this end is joined to, like \"pin A0\"");
        const std::string text = this->text(name, wire);
        const std::size_t space = std::min(text.find(' '), text.size());
        const auto kind = std::find_if(all_kinds.begin(), all_kinds.end(),
                                       [&](Kind one) { return bike::name(one) == text.substr(0, space); });
        const std::size_t rest = text.find_first_not_of(' ', space);
        WireEnd end;
        if (kind == all_kinds.end())
            fields_.refuse(
                name, *column->at,
                fmt::format("\"{}\": begin with what it is: {}", text, joined(kind_names(), ", ")));
        end.kind = *kind;
        if (rest != std::string::npos) end.name = text.substr(rest);
        const bool needs_name = end.kind == Kind::tap || end.kind == Kind::pin || end.kind == Kind::lamps ||
                                end.kind == Kind::part;
        if (needs_name && end.name.empty())
            fields_.refuse(name, *column->at, fmt::format("\"{}\": say which, like \"{} A0\"", text, text));
        if (end.kind == Kind::tap &&
            std::find(tap_lines.begin(), tap_lines.end(), end.name) == tap_lines.end())
            fields_.refuse(name, *column->at,
                           fmt::format("\"{}\": a tap is one of: {}", text, joined(tap_lines, ", ")));
        return end;
    }

private:
    struct Column {
        std::string_view name;
        const toml::node* at;
        std::vector<std::string> texts;
        std::vector<double> numbers; ///< one of the two is in use
    };

    Column* begin(std::string_view name) {
        const toml::node* at = fields_.node(name);
        return at == nullptr ? nullptr : &columns_.emplace_back(Column{name, at, {}, {}});
    }

    void count(const Column& list, std::size_t entries) {
        if (entries == 0) fields_.refuse(list.name, *list.at, "the list is empty");
        if (wires_ != 0 && entries != wires_)
            fields_.refuse(list.name, *list.at,
                           fmt::format("a list of {}, but another list of this table has {}: "
                                       "one entry for each wire",
                                       entries, wires_));
        wires_ = entries;
    }

    static std::vector<std::string_view> kind_names() {
        std::vector<std::string_view> names;
        for (const Kind kind : all_kinds)
            names.push_back(bike::name(kind));
        return names;
    }

    const Column* find(std::string_view name) const {
        const auto found = std::find_if(columns_.begin(), columns_.end(),
                                        [&](const Column& column) { return column.name == name; });
        return found == columns_.end() ? nullptr : &*found;
    }

    TomlFields& fields_;
    std::vector<Column> columns_;
    std::size_t wires_{0};
};

void read_cable(TomlFields& fields, const std::string& where, std::vector<Wire>& wires) {
    Cable cable(fields);
    for (const std::string_view name : {"label", "colour", "from", "to", "connector", "cavity"})
        cable.texts(name);
    cable.numbers("length_m", 0, 100);
    cable.numbers("fuse_a", 0.001, 1000);
    cable.numbers("current_ma", 0, 1e6);
    Wire alike;
    alike.where = where;
    fields.whole("awg", 0, 40, alike.awg);
    fields.flag("cuts", alike.cuts);
    if (fields.has("bundled")) fields.flag("bundled", alike.bundled.emplace());
    for (std::size_t i = 0; i < cable.wires(); ++i) {
        Wire& wire = wires.emplace_back(alike);
        wire.label = cable.text("label", i);
        wire.colour = cable.text("colour", i);
        wire.from = cable.end("from", i);
        wire.to = cable.end("to", i);
        wire.length_m = cable.number("length_m", i);
        wire.fuse_a = cable.number("fuse_a", i);
        wire.current_ma = cable.number("current_ma", i);
        wire.connector = cable.text("connector", i);
        wire.cavity = cable.text("cavity", i);
    }
}

Kept read_kept(TomlFields& fields, const std::string& where) {
    Kept kept;
    kept.where = where;
    fields.text("name", kept.name);
    if (kept.name.empty()) fields.refuse("name", fields.table(), "missing; name the part that stays");
    kept.kind =
        fields.choice("kind", {"tell-tale", "module"}) == 0 ? Kept::Kind::tell_tale : Kept::Kind::module;
    fields.text("line", kept.line);
    if (!kept.line.empty())
        fields.choice("line", {tap_lines[0], tap_lines[1], tap_lines[2], tap_lines[3], tap_lines[4]});
    fields.text("why", kept.why);
    fields.flag("connected", kept.connected);
    return kept;
}

} // namespace

std::string text(const WireEnd& end) {
    return end.name.empty() ? std::string(name(end.kind)) : fmt::format("{} {}", name(end.kind), end.name);
}

Wiring wiring_of(const Vehicle& vehicle) {
    Wiring wiring;
    wiring.vehicle = vehicle.name();
    const auto where = [](const TomlFields& fields, const std::string& path) {
        return fmt::format("{}:{}", path, fields.table().source().begin.line);
    };
    for_each_table(vehicle, "wires", [&](TomlFields& fields, const std::string& path) {
        read_cable(fields, where(fields, path), wiring.wires);
    });
    for_each_table(vehicle, "keep", [&](TomlFields& fields, const std::string& path) {
        wiring.kept.push_back(read_kept(fields, where(fields, path)));
    });
    return wiring;
}

} // namespace winkhold::bike
