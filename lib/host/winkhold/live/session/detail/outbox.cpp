#include "winkhold/live/session/detail/outbox.hpp"

#include <algorithm>

namespace winkhold::live {

void Outbox::send(char kind, TimeUs clock_us, const std::function<void(link::LineWriter&)>& fields) {
    link::LineWriter line;
    line.begin(number_, kind);
    if (fields) fields(line);
    line.finish();
    waiting_.push_back({number_++, kind, std::string(line.text(), line.size()), clock_us, false});
    write_(waiting_.back().bytes);
}

std::optional<Outbox::Sent> Outbox::answered(std::uint16_t number) {
    const auto found = std::find_if(waiting_.begin(), waiting_.end(),
                                    [&](const Sent& sent) { return sent.number == number; });
    if (found == waiting_.end()) return std::nullopt;
    const Sent sent = std::move(*found);
    waiting_.erase(found);
    return sent;
}

std::optional<Outbox::Sent> Outbox::passed(TimeUs clock_us) {
    for (auto sent = waiting_.begin(); sent != waiting_.end(); ++sent) {
        if (clock_us - sent->at_us < patience_us) continue;
        if (sent->repeated) {
            const Sent in_vain = std::move(*sent);
            waiting_.erase(sent);
            return in_vain;
        }
        sent->repeated = true;
        sent->at_us = clock_us;
        write_(sent->bytes);
    }
    return std::nullopt;
}

} // namespace winkhold::live
