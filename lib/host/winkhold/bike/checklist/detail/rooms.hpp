/// What electrics, limits, lamps and wiring say of a vehicle, as reasons for the checklist's verdict.
#pragma once

#include "winkhold/bike/checklist/readiness.hpp"
#include "winkhold/bike/electrics/electrics.hpp"
#include "winkhold/bike/limits/limit_book.hpp"
#include "winkhold/bike/wiring/check.hpp"

#include <optional>

namespace winkhold::bike {

struct BikeFacts;

/// `kind` of vehicle: one without a battery has none to be judged.
void take_electrics(const Electrics& electrics, std::string_view kind, Readiness& readiness);
/// None: the file has no [[wires]].
void take_wiring(const std::optional<WiringSheet>& sheet, Readiness& readiness);

/// The limits of the vehicle's place and kind; none if the file doesn't say one of them. Throws InputError
/// for a place or kind that no limits are carried along for.
std::optional<Profile> profile_of(const Vehicle& vehicle);

/// Limits and lamps, on rides of the vehicle's own rider and on one that asks for everything; the worst
/// counts. Throws InputError as the readers of the sections.
void take_rides(const Vehicle& vehicle, const std::optional<Profile>& profile, Readiness& readiness);

/// What keeps the flasher's rhythm from being known, as a clause; empty if the owner says it.
std::string why_no_rhythm(const Vehicle& vehicle);

/// Facts of the bike and its parts that nobody entered, table by table: where a default is as good as any
/// value for the other judges, it still is not this bike's.
void take_facts(const Vehicle& vehicle, const BikeFacts& bike, Readiness& readiness); // facts.cpp

void take_examples(const Vehicle& vehicle, Readiness& readiness);

} // namespace winkhold::bike
