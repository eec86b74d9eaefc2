#include "winkhold/base/text/detail/json.hpp"

namespace winkhold::base {
namespace {

std::string dump(const Json& json, int indent) {
    return json.dump(indent, ' ', false, Json::error_handler_t::replace);
}

} // namespace

std::string json_text(const Json& json) {
    return dump(json, 1) + "\n";
}

std::string json_line(const Json& json) {
    return dump(json, -1);
}

} // namespace winkhold::base
