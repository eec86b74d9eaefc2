/// The sections of a scenario file, each read over what is there.
#pragma once

#include "winkhold/base/vehicle/detail/toml_fields.hpp"
#include "winkhold/measure/waveform/scenario.hpp"

namespace winkhold::measure {

void read_flasher(TomlFields& fields, FlasherModel& flasher);
void read_lines(const std::string& file, TomlFields& fields, ContactModel& contacts, TapFaults& taps);
void read_volts(TomlFields& fields, LineVolts& volts);
/// [front_end]. `volts` is the same file's [volts] or null: it must not describe an input stage, too.
void read_volts_front_end(TomlFields& fields, const toml::node* volts, LineVolts& line);
/// Throws InputError if a front end is given but not known well enough to be simulated.
void check_front_end(const LineVolts& volts);
void read_rider(const std::string& file, TomlFields& fields, RiderModel& rider);
void read_clock(TomlFields& fields, ClockModel& clock);

} // namespace winkhold::measure
