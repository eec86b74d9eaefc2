#include "winkhold/base/text/detail/json.hpp"

#include "winkhold/base/detail/legible.hpp"

#include <fmt/format.h>

namespace winkhold::base {
namespace {

/// What a terminal would act on and JSON lets stand is escaped; the value is the same.
std::string dump(const Json& json, int indent) {
    return with_unfit(json.dump(indent, ' ', false, Json::error_handler_t::replace), [](std::uint32_t code) {
        // line breaks stand between values only, those in texts are escaped already
        return code == '\n' ? "\n" : fmt::format("\\u{:04x}", code);
    });
}

} // namespace

std::string json_text(const Json& json) {
    return dump(json, 1) + "\n";
}

std::string json_line(const Json& json) {
    return dump(json, -1);
}

} // namespace winkhold::base
