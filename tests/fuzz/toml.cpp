#include "fuzz/reading.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/base/vehicle/vehicle.hpp"
#include "winkhold/bike/checklist/checklist.hpp"
#include "winkhold/bike/electrics/electrics.hpp"
#include "winkhold/bike/lamps/lamp_plan.hpp"
#include "winkhold/bike/limits/limit_book.hpp"
#include "winkhold/bike/pack/pack.hpp"
#include "winkhold/bike/wiring/check.hpp"
#include "winkhold/measure/waveform/scenario.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const fuzz::MemoryFile file(data, size);
    const auto refused_well = [&](auto read) {
        try {
            read(file.path());
        } catch (const winkhold::host::InputError& error) {
            const std::string_view message = error.what();
            fuzz::require(message.find('\n') == message.npos, "the message has more than one line");
        }
    };
    refused_well(
        [](const std::string& path) { winkhold::host::variants_of(winkhold::host::Vehicle::read(path)); });
    refused_well([](const std::string& path) { winkhold::host::read_settings(path, {}); });
    refused_well([](const std::string& path) { winkhold::host::LimitBook::read(path); });
    refused_well(
        [](const std::string& path) { winkhold::host::lamp_plan_of(winkhold::host::Vehicle::read(path)); });
    refused_well([](const std::string& path) {
        winkhold::host::judge_electrics(winkhold::host::Vehicle::read(path));
    });
    refused_well([](const std::string& path) {
        winkhold::host::wiring_sheet_of(winkhold::host::Vehicle::read(path));
    });
    refused_well([](const std::string& path) {
        winkhold::host::checklist_of(winkhold::host::Vehicle::read(path), "fuzzed");
    });
    refused_well([](const std::string& path) {
        winkhold::host::pack_of(winkhold::host::Vehicle::read(path), winkhold::host::PackKind::firmware,
                                "fuzzed");
    });
    return 0;
}
