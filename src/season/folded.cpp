#include "season/folded.h"

#include <utf8proc.h>

#include <cstdlib>
#include <memory>

namespace ropeline {

std::string folded(std::string_view text) {
    utf8proc_uint8_t* made = nullptr;
    const auto length = utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                                     static_cast<utf8proc_ssize_t>(text.size()), &made,
                                     static_cast<utf8proc_option_t>(UTF8PROC_CASEFOLD | UTF8PROC_COMPOSE));
    const std::unique_ptr<utf8proc_uint8_t, void (*)(void*)> owned{made, std::free};
    if (length < 0) return std::string{text};
    return {reinterpret_cast<const char*>(made), static_cast<std::size_t>(length)};
}

} // namespace ropeline
