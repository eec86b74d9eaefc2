/// The sections of a scenario file, each read over what is there.
#pragma once

#include "vehicle/toml_fields.hpp"

namespace winkhold::host {

void read_flasher(TomlFields& fields, FlasherModel& flasher);
void read_lines(const std::string& file, TomlFields& fields, ContactModel& contacts, TapFaults& taps);
void read_volts(TomlFields& fields, LineVolts& volts);
void read_rider(const std::string& file, TomlFields& fields, RiderModel& rider);
void read_clock(TomlFields& fields, ClockModel& clock);

} // namespace winkhold::host
