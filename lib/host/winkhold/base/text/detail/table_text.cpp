// Tables laid out for a screen.
#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"

#include <algorithm>
#include <numeric>
#include <optional>

namespace winkhold::base {
namespace {

using Cells = std::vector<std::string>;

std::size_t longest_word(std::string_view text) {
    std::size_t longest = 0;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        longest = std::max(longest, width_of(text.substr(0, end)));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return longest;
}

Cells lines_of(const std::string& text, std::size_t width) {
    Cells lines;
    const std::string broken = wrapped("", "", text, width);
    for (std::size_t at = 0; at < broken.size();) {
        const std::size_t end = broken.find('\n', at);
        lines.push_back(broken.substr(at, end - at));
        at = end + 1;
    }
    return lines;
}

/// Columns that stand below one head, or a column of its own.
struct Group {
    std::size_t first;
    std::size_t behind; ///< the first one that isn't in it
};

class Layout {
public:
    Layout(const Table& table, std::size_t indent) : table_(table), indent_(indent) {
        for (std::size_t c = 0; c < table.columns.size(); ++c) {
            const std::string& over = table.columns[c].over;
            if (c > 0 && !over.empty() && over == table.columns[c - 1].over)
                ++groups_.back().behind;
            else
                groups_.push_back({c, c + 1});
        }
    }

    /// True if the table fits: as it is, or without indent and with its cells wrapped.
    bool fits() {
        std::vector<std::size_t> least;
        for (std::size_t c = 0; c < table_.columns.size(); ++c) {
            const Column& column = table_.columns[c];
            widths_.push_back(width_of(column.head));
            least.push_back(longest_word(column.head));
            for (const Cells& row : table_.rows) {
                if (row.size() == 1) continue;
                widths_[c] = std::max(widths_[c], width_of(row[c]));
                least[c] =
                    std::max(least[c], column.align == Align::left ? longest_word(row[c]) : width_of(row[c]));
            }
        }
        for (const Group& group : groups_) {
            const std::size_t over = longest_word(table_.columns[group.first].over);
            const std::size_t width = group_width(group, least);
            if (over <= width) continue;
            std::size_t& last = least[group.behind - 1];
            last += over - width;
            widths_[group.behind - 1] = std::max(widths_[group.behind - 1], last);
        }
        if (total() <= text_columns) return true;
        indent_ = 0;
        while (total() > text_columns)
            if (!shrink(least)) return false;
        return true;
    }

    std::string heads() const {
        Cells over;
        Cells heads;
        std::vector<Slot> slots;
        for (const Group& group : groups_) {
            over.push_back(table_.columns[group.first].over);
            slots.push_back({group_width(group, widths_), Slot::Place::middle});
        }
        for (const Column& column : table_.columns)
            heads.push_back(column.head);
        const auto says = [](const std::string& cell) { return !cell.empty(); };
        std::string text;
        if (std::any_of(over.begin(), over.end(), says)) text += lines(over, slots, Rest::at_bottom);
        if (std::any_of(heads.begin(), heads.end(), says))
            text += lines(heads, column_slots(), Rest::at_bottom);
        return text;
    }

    std::string row(const Cells& cells) const { return lines(cells, column_slots(), Rest::on_top); }

private:
    std::size_t total() const { return indent_ + group_width(Group{0, widths_.size()}, widths_); }

    /// Takes a character from the column that needs the fewest more lines for it, from the widest of several.
    bool shrink(const std::vector<std::size_t>& least) {
        std::optional<std::size_t> best;
        std::size_t best_cost = 0;
        for (std::size_t c = 0; c < widths_.size(); ++c) {
            if (widths_[c] <= least[c]) continue;
            const std::size_t cost = height(c, widths_[c] - 1) - height(c, widths_[c]);
            if (best && (cost > best_cost || (cost == best_cost && widths_[c] <= widths_[*best]))) continue;
            best = c;
            best_cost = cost;
        }
        if (best) --widths_[*best];
        return best.has_value();
    }

    /// Lines of a column's head and cells at a width.
    std::size_t height(std::size_t column, std::size_t width) const {
        std::size_t count = lines_of(table_.columns[column].head, width).size();
        for (const Cells& row : table_.rows)
            if (row.size() > 1) count += lines_of(row[column], width).size();
        return count;
    }

    /// Where a cell goes.
    struct Slot {
        enum class Place { left, middle, right };
        std::size_t width;
        Place place;

        std::string with(const std::string& line) const {
            const std::size_t room = width - std::min(width, width_of(line));
            const std::size_t front = place == Place::left ? 0 : place == Place::right ? room : room / 2;
            return std::string(front, ' ') + line + std::string(room - front, ' ');
        }
    };
    enum class Rest { on_top, at_bottom };

    std::vector<Slot> column_slots() const {
        std::vector<Slot> slots;
        for (std::size_t c = 0; c < widths_.size(); ++c)
            slots.push_back({widths_[c], table_.columns[c].align == Align::right ? Slot::Place::right
                                                                                 : Slot::Place::left});
        return slots;
    }

    std::size_t group_width(const Group& group, const std::vector<std::size_t>& widths) const {
        return std::accumulate(widths.begin() + static_cast<std::ptrdiff_t>(group.first),
                               widths.begin() + static_cast<std::ptrdiff_t>(group.behind),
                               (group.behind - group.first - 1) * table_.between);
    }

    std::string lines(const Cells& cells, const std::vector<Slot>& slots, Rest rest) const {
        std::vector<Cells> broken;
        std::size_t height = 0;
        for (std::size_t c = 0; c < cells.size(); ++c) {
            broken.push_back(lines_of(cells[c], slots[c].width));
            height = std::max(height, broken.back().size());
        }
        std::string text;
        for (std::size_t i = 0; i < height; ++i) {
            std::string line(indent_, ' ');
            for (std::size_t c = 0; c < cells.size(); ++c) {
                const std::size_t above = rest == Rest::at_bottom ? height - broken[c].size() : 0;
                const bool has_line = i >= above && i - above < broken[c].size();
                line += slots[c].with(has_line ? broken[c][i - above] : "");
                line += std::string(table_.between, ' ');
            }
            line.erase(line.find_last_not_of(' ') + 1);
            text += line + "\n";
        }
        return text;
    }

    const Table& table_;
    std::size_t indent_;
    std::vector<Group> groups_;
    std::vector<std::size_t> widths_;
};

std::string as_list(const Table& table, const Cells& row, const std::string& indent) {
    std::string text;
    for (std::size_t c = 0; c < row.size(); ++c)
        if (!row[c].empty())
            text += wrapped(indent, indent + "    ",
                            table.columns[c].head.empty() ? row[c] : table.columns[c].head + ": " + row[c]);
    return text;
}

Table legible_table(Table table) {
    for (Cells& row : table.rows)
        for (std::string& cell : row)
            cell = legible(cell);
    return table;
}

} // namespace

std::string table_text(const Table& given, std::size_t indent) {
    const Table table = legible_table(given);
    const std::string lead(indent, ' ');
    Layout layout(table, indent);
    const bool fits = layout.fits();
    std::string text = fits ? layout.heads() : "";
    for (const Cells& row : table.rows) {
        if (row.size() == 1)
            text += wrapped(lead, lead + "  ", row[0]);
        else
            text += fits ? layout.row(row) : as_list(table, row, lead) + "\n";
    }
    return text;
}

} // namespace winkhold::base
