#include "winkhold/base/text/detail/json.hpp"

#include "winkhold/base/detail/legible.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace winkhold::base {

Json::Json(const std::vector<std::string>& texts) : value_(List(texts.begin(), texts.end())) {}

Json::Json(std::initializer_list<Given> members) {
    Members& made = value_.emplace<Members>();
    made.reserve(members.size());
    for (const Given& member : members)
        made.push_back({std::string(member.name), member.value});
}

Json::Json() = default;
Json::Json(const Json&) = default;
Json::Json(Json&&) noexcept = default;
Json& Json::operator=(const Json&) = default;
Json& Json::operator=(Json&&) noexcept = default;
Json::~Json() = default;
Json::Json(bool value) : value_(value) {}
Json::Json(Whole value) : value_(value.value) {}
Json::Json(Natural value) : value_(value.value) {}
Json::Json(double value) : value_(value) {}
Json::Json(std::string_view value) : value_(std::string(value)) {}

Json Json::array() {
    return list_of({});
}

Json Json::list_of(std::initializer_list<Json> values) {
    Json list;
    list.value_ = List(values);
    return list;
}

Json& Json::operator[](std::string_view name) {
    if (std::holds_alternative<std::monostate>(value_)) value_ = Members();
    Members& members = std::get<Members>(value_);
    const auto found = std::find_if(members.begin(), members.end(),
                                    [name](const Member& member) { return member.name == name; });
    return found != members.end() ? found->value : members.emplace_back(std::string(name), Json()).value;
}

void Json::push_back(Json value) {
    std::get<List>(value_).push_back(std::move(value));
}

void Json::update(const Json& other) {
    for (const Member& member : std::get<Members>(other.value_))
        (*this)[member.name] = member.value;
}

namespace {

using Written = nlohmann::ordered_json;

struct ToWritten {
    Written operator()(std::monostate) const { return nullptr; }
    Written operator()(const Json::List& list) const {
        Written written = Written::array();
        for (const Json& value : list)
            written.push_back(std::visit(*this, value.value()));
        return written;
    }
    Written operator()(const Json::Members& members) const {
        Written written = Written::object();
        for (const Json::Member& member : members)
            written.emplace(member.name, std::visit(*this, member.value.value()));
        return written;
    }
    Written operator()(const auto& plain) const { return plain; }
};

/// What a terminal would act on and JSON lets stand is escaped; the value is the same.
std::string dump(const Json& json, int indent) {
    const Written written = std::visit(ToWritten{}, json.value());
    return with_unfit(written.dump(indent, ' ', false, Written::error_handler_t::replace),
                      [](std::uint32_t code) {
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
