/// The sections of a scenario file, each read over what is there.
#pragma once

#include "winkhold/base/vehicle/detail/toml_fields.hpp"
#include "winkhold/measure/waveform/scenario.hpp"

namespace winkhold::measure {

/// All sections that a variant may change, too; `of` leads their names in messages.
void read_sections(const std::string& path, const toml::table& root, const std::string& of,
                   Scenario& scenario);

/// Where the decoder is what is tried, a file that brought settings along would test something else
/// unnoticed. `what` ends the message: "a fault".
void refuse_decoder(const std::string& path, const toml::table& table, const char* what);

void read_flasher(const std::string& file, TomlFields& fields, FlasherModel& flasher);
void read_lines(const std::string& file, TomlFields& fields, ContactModel& contacts, TapFaults& taps);
/// [lines] breaks and strays; they are added to those that are there.
void read_disturbances(const std::string& file, TomlFields& lines, std::vector<Disturbance>& disturbances);
void read_volts(TomlFields& fields, LineVolts& volts);
/// [front_end]. `volts` is the same file's [volts] or null: it must not describe an input stage, too.
void read_volts_front_end(TomlFields& fields, const toml::node* volts, LineVolts& line);
/// Throws InputError if a front end is given but not known well enough to be simulated.
void check_front_end(const LineVolts& volts);
void read_rider(const std::string& file, TomlFields& fields, RiderModel& rider);
void read_clock(TomlFields& fields, ClockModel& clock);

} // namespace winkhold::measure
