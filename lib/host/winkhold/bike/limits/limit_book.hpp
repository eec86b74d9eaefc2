/// The published limits of all places, and which of them hold where one rides.
#pragma once

#include "winkhold/base/wings.hpp"
#include "winkhold/bike/limits/limit.hpp"

#include <map>
#include <set>

namespace winkhold::bike {

/// One file of limits: a place, or a body that publishes for several.
struct Jurisdiction {
    std::string file;               ///< where it was read
    std::string name;               ///< as `--place` and `[vehicle] place` write it
    std::string title;              ///< for people
    std::vector<std::string> kinds; ///< vehicles that it has limits for; empty: those of `also`
    std::vector<std::string> also;  ///< places whose limits hold here, too
    std::vector<Limit> limits;
};

/// What holds for one kind of vehicle at one place.
struct Profile {
    std::string place;
    std::string kind;
    std::string title;
    std::vector<Limit> limits; ///< the place's own first
};

/// All limits that were read, by place.
class LimitBook {
public:
    /// The files of data/limits as they were when this was built.
    static LimitBook carried_along();
    /// All .toml files of a folder, or one file. Throws InputError (file:line, field): no such file, none in
    /// the folder; unknown field, measure, unit, kind or place; a limit without source or number; an id given
    /// twice; places that name each other in a circle.
    static LimitBook read(const std::string& path);

    /// Throws InputError with the list of what is known if there is no such place or kind.
    Profile profile(const std::string& place, const std::string& kind) const;

    /// The limit "place.name", or none.
    const Limit* find(const std::string& id) const;

    /// What `only_if` and `unless` may ask for.
    std::set<std::string> conditions() const;

private:
    using Places = std::map<std::string, Jurisdiction>;
    explicit LimitBook(Places places) : places_(std::move(places)) {}

    Places places_;
};

} // namespace winkhold::bike
