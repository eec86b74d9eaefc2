/// A walk around the bike: each function is asked for in turn, and what the board answers is timed.
#pragma once

#include "winkhold/live/session/session.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace winkhold::live {

/// What the walk found: an entry of [[measured]] in a vehicle file, by the checklist's own name for it.
struct WalkFinding {
    std::string what;
    std::optional<double> value; ///< flashes a minute
    std::optional<bool> done;    ///< somebody looked at the lamps and said so
    std::string note;            ///< what the board answered, and when
};

/// Watches a session and goes on by itself when the board has answered what was asked for. It sees taps and
/// answers, never a lamp: what lamps did, somebody has to say.
class Walk {
public:
    /// Listens to the session, so it must not outlive it.
    explicit Walk(Session& session);
    Walk(const Walk&) = delete;
    Walk& operator=(const Walk&) = delete;

    /// What to do now; empty once all is done. Changes when the step does.
    std::string_view asks() const;
    /// The board has answered, and this is to be said by yes() or no(); empty while it still waits for the
    /// bike.
    std::string_view question() const;
    /// Somebody says that the lamps did so.
    void yes();
    /// Or did not.
    void no();
    /// Leaves out what is asked for now.
    void skip();
    /// Time passes.
    void passed();
    /// All has been asked for.
    bool is_done() const { return step_ == step_count; }
    /// In the order of the walk.
    const std::vector<WalkFinding>& findings() const { return findings_; }

private:
    static constexpr std::size_t step_count = 8;

    void edge(const Edge& edge);
    void indication(const IndicationChange& change);
    void answered(std::string note);
    void next();
    void rate(core::Side side, std::string_view what);

    Session& session_;
    std::vector<WalkFinding> findings_;
    std::size_t step_{0};
    bool waits_for_word_{false};
    std::string note_;
    int rises_{0};                   ///< of the side asked for, since the step began
    std::optional<TimeUs> began_us_; ///< of what is timed
    core::Lines before_;
    core::Indication turn_{core::Indication::off}; ///< the turn that is interrupted
    bool saw_hazard_{false};
    TimeUs hazard_after_us_{0};
};

/// Puts the findings to the end of a vehicle file, one [[measured]] each, `on` that day; what is measured
/// there already is left out. Returns what was added. Throws InputError as edit_file() does.
std::string write_measured(const std::string& path, const std::vector<WalkFinding>& findings,
                           std::string_view on);

} // namespace winkhold::live
