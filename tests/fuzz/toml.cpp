#include "fuzz/reading.hpp"
#include "winkhold/host/electrics/electrics.hpp"
#include "winkhold/host/rules/rule_book.hpp"
#include "winkhold/host/sequence/lamp_plan.hpp"
#include "winkhold/host/waveform/scenario.hpp"
#include "winkhold/host/wiring/check.hpp"
#include "winkhold/host/wiring/handover.hpp"

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
    refused_well([](const std::string& path) { winkhold::host::read_variants(path); });
    refused_well([](const std::string& path) { winkhold::host::read_settings(path, {}); });
    refused_well([](const std::string& path) { winkhold::host::RuleBook::read(path); });
    refused_well([](const std::string& path) { winkhold::host::read_lamp_plan(path); });
    refused_well([](const std::string& path) { winkhold::host::judge_electrics(path); });
    refused_well([](const std::string& path) { winkhold::host::read_wiring_sheet(path); });
    refused_well([](const std::string& path) { winkhold::host::read_handover(path, "fuzzed"); });
    return 0;
}
