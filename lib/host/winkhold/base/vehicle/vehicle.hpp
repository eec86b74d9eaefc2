/// A vehicle file, read once together with the files it builds on. Everything the bench knows of a bike
/// stands in it, a part of it in each section; each room reads the sections it owns when it is asked.
#pragma once

#include "winkhold/base/error.hpp"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace winkhold::base {

/// What [vehicle] format says; files without it are taken for this one.
inline constexpr int vehicle_format = 1;

/// Cheap to copy; never changes.
class Vehicle {
public:
    /// Opens each file once: `path` and what `[vehicle] file = "..."` names, relative to the file that says
    /// so. Throws InputError: missing, not TOML, over 1 MiB, files that name each other in a circle, a
    /// section that no part of Winkhold knows, a newer format. What stands in the other sections is not
    /// looked at.
    static Vehicle read(const std::string& path);
    /// A file of data/ that the library carries along, like "data/faults/F07-one-tap-open.toml", wherever the
    /// program runs.
    static Vehicle carried(const std::string& name);
    /// The demo bike, carried along.
    static Vehicle demo();

    const std::string& path() const;  ///< of the file that was asked for
    const std::string& name() const;  ///< [vehicle] name; the file's own if it has none
    const std::string& kind() const;  ///< [vehicle] kind: "motorcycle", "moped", ...; may be empty
    const std::string& place() const; ///< [vehicle] place: where it is ridden; may be empty

    /// One of the files that the vehicle was read from.
    struct File {
        std::string path;
        std::uint32_t crc32; ///< of its bytes, as zip and gzip have it
    };
    /// In the order in which they are read: each overrides what stands before it.
    const std::vector<File>& files() const;

    /// One number for all of them, as a board is built with and says it: of a single file its CRC-32, of
    /// several that of their CRC-32s, each as eight digits and a line feed.
    std::uint32_t hash() const;

    /// Any of the files has this section, like "lamps".
    bool has(std::string_view section) const;

    /// A line of one of the files, counted from 1.
    struct Place {
        std::string file;
        long long line;
    };
    /// Where a value stands that holds, like "flasher.rate_per_min" or "lamps.2.led_v" (the third table of
    /// [[lamps]]); none: nobody gave it, so a default holds.
    std::optional<Place> given(std::string_view field) const;

    /// The comment at the end of the line where that value stands, without its '#': why it is so. Empty:
    /// none.
    std::string remark(std::string_view field) const;

    /// Who says a value.
    enum class Origin : std::uint8_t {
        nobody,  ///< a default holds, if anything
        example, ///< its table still says `example = true`
        owner,   ///< somebody who knows this bike
    };
    /// Of a field as in given(), or of a whole section ("flasher", "lamps.2").
    Origin origin(std::string_view field) const;

    /// A table that still says `example = true`, in the order of the files.
    struct Example {
        std::string section; ///< "flasher", or "lamps" for one of [[lamps]]
        Place place;         ///< of that line
    };
    /// None for a vehicle that is all its owner's.
    std::vector<Example> examples() const;

    struct Parts;

private:
    friend const Parts& parts_of(const Vehicle& vehicle);
    explicit Vehicle(std::shared_ptr<const Parts> parts) : parts_(std::move(parts)) {}

    std::shared_ptr<const Parts> parts_;
};

} // namespace winkhold::base
