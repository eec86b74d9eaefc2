#include "winkhold/bike/checklist/readiness.hpp"

#include "winkhold/base/detail/crc.hpp"
#include "winkhold/base/joined.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

struct Words {
    Judge judge;
    std::string_view one;
    std::string_view more;
};
constexpr Words wrong_words[] = {
    {Judge::points, "point failed", "points failed"},
    {Judge::electrics, "finding of the electrics", "findings of the electrics"},
    {Judge::limits, "broken limit", "broken limits"},
    {Judge::sequence, "lamp group that stays dark", "lamp groups that stay dark"},
    {Judge::wiring, "finding of the wiring", "findings of the wiring"},
};
constexpr Words open_words[] = {
    {Judge::points, "point", "points"},
    {Judge::electrics, "judgement of the electrics", "judgements of the electrics"},
    {Judge::limits, "limit", "limits"},
    {Judge::sequence, "question to the lamps", "questions to the lamps"},
    {Judge::wiring, "question to the wiring", "questions to the wiring"},
    {Judge::facts, "table with facts that nobody entered", "tables with facts that nobody entered"},
    {Judge::example, "table still the example's", "tables still the example's"},
};

template <std::size_t Count>
std::string counted(const std::vector<Reason>& reasons, const Words (&all)[Count]) {
    std::vector<std::string> counts;
    for (const Words& words : all) {
        const auto count = std::count_if(reasons.begin(), reasons.end(),
                                         [&](const Reason& reason) { return reason.judge == words.judge; });
        if (count > 0) counts.push_back(fmt::format("{} {}", count, count == 1 ? words.one : words.more));
    }
    return joined(counts, ", ");
}

} // namespace

std::string verdict_line(const Readiness& readiness) {
    const std::string missing = counted(readiness.missing, open_words);
    switch (readiness.verdict()) {
    case Verdict::ready:
        return "READY FOR INSPECTION";
    case Verdict::open:
        return "OPEN: " + missing;
    case Verdict::not_ready:
        break;
    }
    const std::string besides = missing.empty() ? "" : fmt::format("; open besides: {}", missing);
    return fmt::format("NOT READY: {}{}", counted(readiness.against, wrong_words), besides);
}

std::uint32_t judged_crc32(const std::vector<Vehicle::File>& files, const std::string& program) {
    std::string judged = program;
    for (const Vehicle::File& file : files)
        judged += fmt::format("\n{:08x}", file.crc32);
    return crc32(judged);
}

} // namespace winkhold::bike
