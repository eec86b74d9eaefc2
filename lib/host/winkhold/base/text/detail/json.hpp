/// JSON, as every command writes it.
#pragma once

#include "winkhold/base/wings.hpp"

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

namespace winkhold::base {

/// Members in the order in which they are added.
using Json = nlohmann::ordered_json;

template <class Value>
Json or_null(const std::optional<Value>& value) {
    return value ? Json(*value) : Json(nullptr);
}

/// A value a line, indented by one for each level; a newline at the end. What is no UTF-8, as a file's name
/// may be, becomes U+FFFD.
std::string json_text(const Json& json);

/// All in one line, without a newline.
std::string json_line(const Json& json);

} // namespace winkhold::base
