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
    struct Given;
    using List = std::vector<Json>;
    using Members = std::vector<Member>;

    // all out of line: whoever fills one makes dozens
    Json();
    Json(const Json&);
    Json(Json&&) noexcept;
    Json& operator=(const Json&);
    Json& operator=(Json&&) noexcept;
    ~Json();
    Json(std::nullptr_t) : Json() {}
    Json(bool value);
    Json(std::signed_integral auto value) : Json(Whole{value}) {}
    Json(std::unsigned_integral auto value) : Json(Natural{value}) {}
    Json(double value);
    Json(std::string_view value);
    Json(const std::string& value) : Json(std::string_view(value)) {}
    Json(const char* value) : Json(std::string_view(value)) {}
    Json(const std::vector<std::string>& texts);
    Json(std::initializer_list<Given> members);
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
    struct Whole {
        std::int64_t value;
    };
    struct Natural {
        std::uint64_t value;
    };
    explicit Json(Whole value);
    explicit Json(Natural value);

    std::variant<std::monostate, bool, std::int64_t, std::uint64_t, double, std::string, List, Members>
        value_{};
};

struct Json::Member {
    std::string name;
    Json value;
};

/// A member as it is written down.
struct Json::Given {
    std::string_view name;
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
