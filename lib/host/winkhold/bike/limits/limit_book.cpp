#include "winkhold/bike/limits/limit_book.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/detail/embedded_texts.hpp"
#include "winkhold/base/vehicle/detail/toml_fields.hpp"
#include "winkhold/bike/limits/detail/limit_file.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Places = std::map<std::string, Jurisdiction>;

void add(Places& places, const std::string& path, const toml::table& root) {
    Jurisdiction place = read_place(path, root);
    for (Limit& limit : place.limits)
        limit.id = place.name + "." + limit.id;
    const std::string name = place.name;
    if (!places.emplace(name, std::move(place)).second)
        throw InputError(at_line(path, 0, fmt::format("[place] name: \"{}\" has a file already", name)));
}

/// The place and those whose limits hold there, too, each once.
void collect(const Places& places, const Jurisdiction& place, std::vector<const Jurisdiction*>& found,
             std::vector<std::string> way = {}) {
    if (std::find(way.begin(), way.end(), place.name) != way.end())
        throw InputError(at_line(
            place.file, 0, fmt::format("[place] also: {} name each other in a circle", joined(way, ", "))));
    way.push_back(place.name);
    if (std::find(found.begin(), found.end(), &place) == found.end()) found.push_back(&place);
    for (const std::string& other : place.also) {
        const auto at = places.find(other);
        if (at == places.end())
            throw InputError(
                at_line(place.file, 0, fmt::format("[place] also: there is no place \"{}\"", other)));
        collect(places, at->second, found, way);
    }
}

std::vector<const Jurisdiction*> collected(const Places& places, const Jurisdiction& place) {
    std::vector<const Jurisdiction*> found;
    collect(places, place, found);
    return found;
}

std::set<std::string> kinds_of(const Places& places, const Jurisdiction& place) {
    if (!place.kinds.empty()) return {place.kinds.begin(), place.kinds.end()};
    std::set<std::string> kinds;
    for (const Jurisdiction* one : collected(places, place))
        kinds.insert(one->kinds.begin(), one->kinds.end());
    return kinds;
}

/// A limit for a kind that no place knows would never be judged.
void refuse_unknown_kinds(const Places& places) {
    for (const auto& [name, place] : places) {
        const std::set<std::string> kinds = kinds_of(places, place);
        for (const Limit& limit : place.limits)
            for (const std::string& kind : limit.kinds)
                if (!kinds.contains(kind))
                    throw InputError(
                        at_line(place.file, 0,
                                fmt::format("[limit] kinds: {} names \"{}\", which is none of place {} ({})",
                                            limit.id, kind, name, joined(kinds, ", "))));
    }
}

/// At every place that has kinds of vehicle, and so can be asked for.
bool holds_everywhere(const Places& places, const Jurisdiction& one) {
    return std::all_of(places.begin(), places.end(), [&](const auto& named) {
        const std::vector<const Jurisdiction*> all = collected(places, named.second);
        return kinds_of(places, named.second).empty() || std::find(all.begin(), all.end(), &one) != all.end();
    });
}

std::string list_of(const Places& places) {
    std::vector<std::string> lines;
    for (const auto& [name, place] : places)
        if (const auto kinds = kinds_of(places, place); !kinds.empty())
            lines.push_back(fmt::format("{} ({})", name, joined(kinds, ", ")));
    return joined(lines, "; ");
}

} // namespace

LimitBook LimitBook::carried_along() {
    constexpr std::string_view folder = "limits/";
    Places places;
    for (const EmbeddedText& text : embedded_texts())
        if (text.name.starts_with(folder)) {
            const std::string path(text.name);
            add(places, path, parse_toml_text(text.text, path));
        }
    refuse_unknown_kinds(places);
    return LimitBook(std::move(places));
}

LimitBook LimitBook::read(const std::string& path) {
    namespace fs = std::filesystem;
    std::set<std::string> files;
    std::error_code error;
    if (fs::is_directory(path, error)) {
        for (const fs::directory_entry& entry : fs::directory_iterator(path))
            if (entry.path().extension() == ".toml") files.insert(entry.path().string());
        if (files.empty()) throw InputError(at_line(path, 0, "holds no .toml file of limits"));
    } else {
        files.insert(path);
    }
    Places places;
    for (const std::string& file : files)
        add(places, file, parse_toml(file));
    refuse_unknown_kinds(places);
    return LimitBook(std::move(places));
}

Profile LimitBook::profile(const std::string& place, const std::string& kind) const {
    const auto at = places_.find(place);
    const std::set<std::string> kinds =
        at == places_.end() ? std::set<std::string>{} : kinds_of(places_, at->second);
    if (!kinds.contains(kind))
        throw InputError(fmt::format("no limits for place \"{}\" and kind of vehicle \"{}\"; known: {}",
                                     place, kind, list_of(places_)));
    Profile profile{place, kind, at->second.title, {}};
    for (const Jurisdiction* one : collected(places_, at->second)) {
        const bool everywhere = holds_everywhere(places_, *one);
        for (const Limit& limit : one->limits)
            if (limit.kinds.empty() ||
                std::find(limit.kinds.begin(), limit.kinds.end(), kind) != limit.kinds.end())
                profile.limits.emplace_back(limit).everywhere = everywhere;
    }
    return profile;
}

const Limit* LimitBook::find(const std::string& id) const {
    for (const auto& [name, place] : places_)
        for (const Limit& limit : place.limits)
            if (limit.id == id) return &limit;
    return nullptr;
}

std::set<std::string> LimitBook::conditions() const {
    std::set<std::string> all;
    for (const auto& [name, place] : places_)
        for (const Limit& limit : place.limits)
            for (const std::vector<std::string>* conditions : {&limit.only_if, &limit.unless})
                all.insert(conditions->begin(), conditions->end());
    return all;
}

} // namespace winkhold::bike
