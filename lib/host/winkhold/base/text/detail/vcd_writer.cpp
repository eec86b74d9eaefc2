#include "winkhold/base/text/detail/vcd_writer.hpp"

#include <fmt/format.h>

namespace winkhold::base {
namespace {

/// Printable characters, as many as it takes.
std::string code_of(std::size_t number) {
    constexpr std::size_t printable = '~' - '!' + 1;
    std::string code;
    do {
        code += static_cast<char>('!' + number % printable);
        number /= printable;
    } while (number > 0);
    return code;
}

/// A name of any text as the format takes it: printable ASCII without blanks, and no keyword.
std::string one_word(std::string_view name) {
    std::string word;
    for (const char c : name)
        word += c > ' ' && c <= '~' ? c : '_';
    return word.empty() || word[0] == '$' ? fmt::format("_{}", word) : word;
}

} // namespace

VcdWriter::VcdWriter(std::ostream& out, Zeros zeros) : text_(out), zeros_(zeros) {
    text_.add("$timescale 1 us $end\n");
    open_scope("winkhold");
}

void VcdWriter::open_scope(std::string_view name) {
    text_.add("$scope module {} $end\n", one_word(name));
}

void VcdWriter::close_scope() {
    text_.add("$upscope $end\n");
}

VcdWriter::Signal VcdWriter::add_signal(std::string_view name, unsigned bits, std::string code) {
    if (code.empty()) code = code_of(signals_.size());
    text_.add("$var wire {} {} {}", bits, code, one_word(name));
    if (bits > 1) text_.add(" [{}:0]", bits - 1);
    text_.add(" $end\n");
    signals_.push_back({std::move(code), bits});
    return signals_.size() - 1;
}

void VcdWriter::end_head() {
    close_scope();
    text_.add("$enddefinitions $end\n");
}

void VcdWriter::first_values(TimeUs t_us, std::span<const unsigned> values) {
    stamp(t_us);
    text_.add("$dumpvars\n");
    for (Signal signal = 0; signal < values.size(); ++signal)
        set(t_us, signal, values[signal]);
    text_.add("$end\n");
}

void VcdWriter::set(TimeUs t_us, Signal signal, unsigned value) {
    Known& known = signals_[signal];
    if (known.value == value) return;
    known.value = value;
    stamp(t_us);
    if (known.bits == 1)
        text_.add("{}{}\n", value, known.code);
    else
        text_.add("b{:0{}b} {}\n", value, zeros_ == Zeros::kept ? known.bits : 1, known.code);
}

void VcdWriter::finish(TimeUs end_us) {
    if (end_us > stamped_us_) stamp(end_us);
    text_.flush();
}

void VcdWriter::stamp(TimeUs t_us) {
    if (t_us == stamped_us_ && !is_new_step_) return;
    is_new_step_ = false;
    stamped_us_ = t_us;
    text_.add("#{}\n", t_us);
}

} // namespace winkhold::base
