/// Text whose turn comes later, for outputs that are written while a recording is read.
#pragma once

#include "winkhold/base/error.hpp"

#include <cstdio>
#include <fmt/ostream.h>
#include <memory>

namespace winkhold::base {

/// However much there is: in a temporary file, so that memory stays flat.
class PutAside {
public:
    PutAside() : file_(std::tmpfile(), std::fclose) {
        if (file_ == nullptr)
            throw InputError(
                "no temporary file can be made; is the disk full, or the folder for them missing?");
    }

    template <class... Values>
    void add(fmt::format_string<Values...> format, Values&&... values) {
        fmt::print(file_.get(), format, std::forward<Values>(values)...);
    }

    void write_to(std::ostream& out) {
        std::rewind(file_.get());
        char block[4'096];
        for (std::size_t count; (count = std::fread(block, 1, sizeof block, file_.get())) > 0;)
            out.write(block, static_cast<std::streamsize>(count));
    }

private:
    std::unique_ptr<std::FILE, int (*)(std::FILE*)> file_;
};

} // namespace winkhold::base
