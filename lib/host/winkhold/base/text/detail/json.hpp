/// JSON, as every command writes it. The library that writes it is in json.cpp alone.
#pragma once

#include "winkhold/base/wings.hpp"

#include <concepts>
#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace winkhold::base {

/// A value of JSON. Members stand in the order in which they are added; a number that is not finite is null.
class Json {
public:
    struct Member;
    using List = std::vector<Json>;
    using Members = std::vector<Member>;

    Json() = default;
    Json(std::nullptr_t) {}
    Json(bool value) : value_(value) {}
    Json(std::signed_integral auto value) : value_(std::int64_t{value}) {}
    Json(std::unsigned_integral auto value) : value_(std::uint64_t{value}) {}
    Json(double value) : value_(value) {}
    Json(std::string value) : value_(std::move(value)) {}
    Json(std::string_view value) : value_(std::string(value)) {}
    Json(const char* value) : value_(std::string(value)) {}
    Json(const std::vector<std::string>& texts);
    Json(std::initializer_list<Member> members);
    /// An empty list.
    static Json array();
    static Json list_of(std::initializer_list<Json> values);

    /// The member of that name, null if it is new. Null becomes an object.
    Json& operator[](std::string_view name);
    /// At the end of a list.
    void push_back(Json value);
    /// Sets the members that `other` has.
    void update(const Json& other);

    const auto& value() const { return value_; }

private:
    std::variant<std::monostate, bool, std::int64_t, std::uint64_t, double, std::string, List, Members>
        value_{};
};

struct Json::Member {
    std::string name;
    Json value;
};

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
