#include "winkhold/taps/decode/decoded_file.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"
#include "winkhold/base/text/detail/vcd_writer.hpp"
#include "winkhold/taps/trace/replay.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <optional>
#include <vector>

namespace winkhold::taps {
namespace {

using core::Lines;
using core::Side;

/// All that is written, as bits side by side.
using State = std::uint32_t;

/// One signal or column: so many bits of the state.
struct Field {
    std::string scope; ///< below "winkhold"; empty: right there
    std::string name;
    unsigned first;
    unsigned width{1};

    State of(State state) const { return state >> first & ((1u << width) - 1u); }
};

constexpr unsigned first_settled = 5;
constexpr unsigned first_shown = 7;
constexpr unsigned first_faults[] = {9, 14};

std::vector<Field> all_fields() {
    std::vector<Field> fields{{"", "left", 0},
                              {"", "right", 1},
                              {"", "brake", 2},
                              {"", "tail", 3},
                              {"", "supply", 4},
                              {"settled", "settled_left", first_settled},
                              {"settled", "settled_right", first_settled + 1},
                              {"shown", "shown_left", first_shown},
                              {"shown", "shown_right", first_shown + 1},
                              {"shown", "indication", first_shown, 2}};
    for (const Side side : {Side::left, Side::right}) {
        unsigned bit = first_faults[static_cast<std::size_t>(side)];
        for (const core::Fault fault : all_faults) {
            std::string of = fmt::format("{}_{}", name(side), name(fault));
            std::replace(of.begin(), of.end(), '-', '_');
            fields.push_back({"faults", of, bit++});
        }
    }
    return fields;
}

State state_of(Lines lines, const core::Decoder& decoder) {
    State state = lines.bits();
    state |= static_cast<State>(decoder.indication()) << first_shown;
    for (const Side side : {Side::left, Side::right}) {
        const auto i = static_cast<unsigned>(side);
        state |= (decoder.line(side).on() ? 1u : 0u) << (first_settled + i);
        unsigned bit = first_faults[i];
        for (const core::Fault fault : all_faults)
            state |= ((decoder.faults(side) & fault) != 0 ? 1u : 0u) << bit++;
    }
    return state;
}

/// What becomes of the states.
class Form {
public:
    virtual ~Form() = default;
    /// The state from `t_us` on; it is another one, or the first.
    virtual void change(TimeUs t_us, State state) = 0;
    virtual void finish(TimeUs end_us) = 0;
};

class CsvForm : public Form {
public:
    explicit CsvForm(std::ostream& out) : csv_(out) {
        csv_.field("time_us");
        for (const Field& field : fields_)
            csv_.field(field.name);
        csv_.end_record();
    }

    void change(TimeUs t_us, State state) override {
        csv_.field(t_us);
        for (const Field& field : fields_)
            csv_.field(field.of(state));
        csv_.end_record();
        last_us_ = t_us;
        last_ = state;
    }

    void finish(TimeUs end_us) override {
        if (end_us > last_us_) change(end_us, last_);
        csv_.flush();
    }

private:
    std::vector<Field> fields_{all_fields()};
    CsvWriter csv_;
    TimeUs last_us_{-1};
    State last_{0};
};

class VcdForm : public Form {
public:
    explicit VcdForm(std::ostream& out) : vcd_(out) {
        std::string scope;
        for (const Field& field : fields_) {
            if (field.scope != scope) {
                if (!scope.empty()) vcd_.close_scope();
                vcd_.open_scope(field.scope);
                scope = field.scope;
            }
            vcd_.add_signal(field.name, field.width);
        }
        vcd_.close_scope();
        vcd_.end_head();
    }

    void change(TimeUs t_us, State state) override {
        for (VcdWriter::Signal signal = 0; signal < fields_.size(); ++signal)
            values_[signal] = fields_[signal].of(state);
        if (is_first_) return first(t_us);
        for (VcdWriter::Signal signal = 0; signal < fields_.size(); ++signal)
            vcd_.set(t_us, signal, values_[signal]);
    }

    void finish(TimeUs end_us) override { vcd_.finish(end_us); }

private:
    void first(TimeUs t_us) {
        is_first_ = false;
        vcd_.first_values(t_us, values_);
    }

    std::vector<Field> fields_{all_fields()};
    VcdWriter vcd_;
    std::vector<unsigned> values_ = std::vector<unsigned>(fields_.size());
    bool is_first_{true};
};

class DecodingSource : public EdgeSource {
public:
    DecodingSource(EdgeSource& source, const core::Settings& settings, std::unique_ptr<Form> form)
        : source_(source), replay_(settings), form_(std::move(form)) {}

    bool next(Edge& edge) override {
        if (source_.next(edge)) {
            replay_.feed(edge, [&](TimeUs t_us, const core::Decoder& decoder) {
                if (t_us == edge.t_us) lines_ = edge.lines;
                observe(t_us, decoder);
            });
            return true;
        }
        if (!is_finished_) finish();
        return false;
    }
    TimeUs end_us() const override { return source_.end_us(); }
    std::vector<Caveat> caveats() const override { return source_.caveats(); }

private:
    void finish() {
        is_finished_ = true;
        replay_.finish(end_us(),
                       [this](TimeUs t_us, const core::Decoder& decoder) { observe(t_us, decoder); });
        form_->finish(end_us());
    }

    void observe(TimeUs t_us, const core::Decoder& decoder) {
        const State state = state_of(lines_, decoder);
        if (last_ == state) return;
        last_ = state;
        form_->change(t_us, state);
    }

    EdgeSource& source_;
    Replay replay_;
    std::unique_ptr<Form> form_;
    Lines lines_{};
    std::optional<State> last_;
    bool is_finished_{false};
};

} // namespace

std::unique_ptr<EdgeSource> write_decoded_file(EdgeSource& source, const core::Settings& settings,
                                               DecodedFormat format, std::ostream& out) {
    std::unique_ptr<Form> form;
    if (format == DecodedFormat::vcd)
        form = std::make_unique<VcdForm>(out);
    else
        form = std::make_unique<CsvForm>(out);
    return std::make_unique<DecodingSource>(source, settings, std::move(form));
}

} // namespace winkhold::taps
