#include "winkhold/host/report/decoded_file.hpp"

#include "text_out.hpp"
#include "winkhold/host/report/names.hpp"
#include "winkhold/host/trace/replay.hpp"

#include <algorithm>
#include <optional>
#include <vector>

namespace winkhold::host {
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
class Writer {
public:
    virtual ~Writer() = default;
    /// The state from `t_us` on; it is another one, or the first.
    virtual void change(TimeUs t_us, State state) = 0;
    virtual void finish(TimeUs end_us) = 0;
};

class CsvWriter : public Writer {
public:
    explicit CsvWriter(std::ostream& out) : text_(out) {
        text_.add("time_us");
        for (const Field& field : fields_)
            text_.add(",{}", field.name);
        text_.add("\n");
    }

    void change(TimeUs t_us, State state) override {
        text_.add("{}", t_us);
        for (const Field& field : fields_)
            text_.add(",{}", field.of(state));
        text_.add("\n");
        last_us_ = t_us;
        last_ = state;
    }

    void finish(TimeUs end_us) override {
        if (end_us > last_us_) change(end_us, last_);
        text_.flush();
    }

private:
    std::vector<Field> fields_{all_fields()};
    TextOut text_;
    TimeUs last_us_{-1};
    State last_{0};
};

class VcdWriter : public Writer {
public:
    explicit VcdWriter(std::ostream& out) : text_(out) {
        text_.add("$timescale 1 us $end\n$scope module winkhold $end\n");
        std::string scope;
        for (const Field& field : fields_) {
            if (field.scope != scope) {
                if (!scope.empty()) text_.add("$upscope $end\n");
                text_.add("$scope module {} $end\n", field.scope);
                scope = field.scope;
            }
            const std::string range = field.width == 1 ? "" : fmt::format(" [{}:0]", field.width - 1);
            text_.add("$var wire {} {} {}{} $end\n", field.width, code(field), field.name, range);
        }
        text_.add("$upscope $end\n$upscope $end\n$enddefinitions $end\n");
    }

    void change(TimeUs t_us, State state) override {
        if (!last_ || t_us > last_us_) text_.add("#{}\n", t_us);
        if (!last_) text_.add("$dumpvars\n");
        for (const Field& field : fields_) {
            const State value = field.of(state);
            if (last_ && field.of(*last_) == value) continue;
            if (field.width == 1)
                text_.add("{}{}\n", value, code(field));
            else
                text_.add("b{:0{}b} {}\n", value, field.width, code(field));
        }
        if (!last_) text_.add("$end\n");
        last_us_ = t_us;
        last_ = state;
    }

    void finish(TimeUs end_us) override {
        if (end_us > last_us_) text_.add("#{}\n", end_us);
        text_.flush();
    }

private:
    char code(const Field& field) const { return static_cast<char>('!' + (&field - fields_.data())); }

    std::vector<Field> fields_{all_fields()};
    TextOut text_;
    TimeUs last_us_{-1};
    std::optional<State> last_;
};

class DecodingSource : public EdgeSource {
public:
    DecodingSource(EdgeSource& source, const core::Settings& settings, std::unique_ptr<Writer> writer)
        : source_(source), replay_(settings), writer_(std::move(writer)) {}

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
        writer_->finish(end_us());
    }

    void observe(TimeUs t_us, const core::Decoder& decoder) {
        const State state = state_of(lines_, decoder);
        if (last_ == state) return;
        last_ = state;
        writer_->change(t_us, state);
    }

    EdgeSource& source_;
    Replay replay_;
    std::unique_ptr<Writer> writer_;
    Lines lines_{};
    std::optional<State> last_;
    bool is_finished_{false};
};

} // namespace

std::unique_ptr<EdgeSource> write_decoded_file(EdgeSource& source, const core::Settings& settings,
                                               DecodedFormat format, std::ostream& out) {
    std::unique_ptr<Writer> writer;
    if (format == DecodedFormat::vcd)
        writer = std::make_unique<VcdWriter>(out);
    else
        writer = std::make_unique<CsvWriter>(out);
    return std::make_unique<DecodingSource>(source, settings, std::move(writer));
}

} // namespace winkhold::host
