#include "intake/list_text.h"

#include <utf8proc.h>

#include <iconv.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <memory>
#include <system_error>
#include <type_traits>

namespace ropeline {

namespace {

constexpr std::size_t most_bytes = 32u << 20u; // ten times what 100 000 rows of a scorer's list take
constexpr std::string_view unknown_character = "\xef\xbf\xbd";

bool is_utf8(std::string_view text) {
    while (!text.empty()) {
        utf8proc_int32_t character = 0;
        const auto length = utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                                             static_cast<utf8proc_ssize_t>(text.size()), &character);
        if (length <= 0) return false;
        text.remove_prefix(static_cast<std::size_t>(length));
    }
    return true;
}

/// Without a byte order mark: noughts are the upper halves of what a list is mostly made of, digits and separators.
std::string_view guessed_encoding(std::string_view bytes) {
    std::array<std::size_t, 2> noughts{}; // at even and at odd places
    const std::string_view head = bytes.substr(0, 4096);
    for (std::size_t i = 0; i < head.size(); ++i)
        noughts.at(i % 2) += head[i] == '\0' ? 1 : 0;
    const auto upper_halves = [&](std::size_t many, std::size_t few) {
        return 8 * many >= head.size() && 8 * few <= many && many > 0;
    };
    if (upper_halves(noughts[1], noughts[0])) return "UTF-16LE";
    if (upper_halves(noughts[0], noughts[1])) return "UTF-16BE";
    return is_utf8(bytes) ? "UTF-8" : "Windows-1252";
}

/// `encoding` ends with a zero byte.
std::string converted(std::string_view bytes, std::string_view encoding) {
    const std::unique_ptr<std::remove_pointer_t<iconv_t>, int (*)(iconv_t)> converter{
        iconv_open("UTF-8", encoding.data()), iconv_close};
    if (converter.get() == reinterpret_cast<iconv_t>(-1)) {
        throw std::system_error(errno, std::generic_category(), "iconv");
    }
    const std::size_t unit = encoding.starts_with("UTF-16") ? 2 : 1;
    std::string text;
    std::array<char, 65536> some{};
    char* from = const_cast<char*>(bytes.data()); // iconv reads only; its signature is older than const
    std::size_t left = bytes.size();
    while (left > 0) {
        char* to = some.data();
        std::size_t room = some.size();
        const bool stopped = iconv(converter.get(), &from, &left, &to, &room) == static_cast<std::size_t>(-1);
        const int reason = errno;
        text.append(some.data(), to);
        if (!stopped || reason == E2BIG) continue;
        text += unknown_character;
        const std::size_t passed = std::min(left, unit);
        from += passed;
        left -= passed;
    }
    return text;
}

} // namespace

ListText list_text(std::string_view bytes) {
    ListText list;
    if (bytes.size() > most_bytes) {
        list.trouble =
            "This list is longer than 32 MB: cut it into a list for each game, then drop one here.";
        return list;
    }
    if (bytes.starts_with("\xef\xbb\xbf")) bytes.remove_prefix(3);
    if (bytes.starts_with("\xff\xfe") || bytes.starts_with("\xfe\xff")) {
        list.encoding = bytes.starts_with("\xff\xfe") ? "UTF-16LE" : "UTF-16BE";
        bytes.remove_prefix(2);
    } else {
        list.encoding = guessed_encoding(bytes);
    }
    list.text = list.encoding == "UTF-8" ? std::string{bytes} : converted(bytes, list.encoding);
    if (list.text.find('\0') != std::string::npos) {
        list.text.clear();
        list.trouble = "This is not a text file: save the list as CSV, then drop it here.";
    }
    return list;
}

} // namespace ropeline
