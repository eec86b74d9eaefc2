/// Text broken into lines at its spaces.
#pragma once

#include <algorithm>
#include <string>

namespace winkhold::host {

/// Words of `text` in lines of at most `columns`, each led by `lead`, the first one by `first`. Ends with a
/// newline.
inline std::string wrapped(const std::string& first, const std::string& lead, const std::string& text,
                           std::size_t columns) {
    std::string out = first;
    std::size_t column = first.size();
    bool fresh = true;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, end - at);
        if (!fresh && column + 1 + word.size() > columns) {
            out += "\n" + lead;
            column = lead.size();
            fresh = true;
        }
        out += (fresh ? "" : " ") + word;
        column += word.size() + (fresh ? 0 : 1);
        fresh = false;
        at = end + 1;
    }
    return out + "\n";
}

} // namespace winkhold::host
