/// What may be absent, in JSON.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>

namespace winkhold::host {

using Json = nlohmann::ordered_json;

template <class Value>
Json or_null(const std::optional<Value>& value) {
    return value ? Json(*value) : Json(nullptr);
}

} // namespace winkhold::host
