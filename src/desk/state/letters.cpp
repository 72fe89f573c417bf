#include "desk/state/letters.h"

#include <utf8proc.h>

namespace ropeline {

void note_letters(Letters& letters, std::string_view text) {
    constexpr char32_t first_beyond = 0x0530; // Armenian, after Cyrillic
    while (!text.empty()) {
        utf8proc_int32_t letter = 0;
        const auto length = utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                                             static_cast<utf8proc_ssize_t>(text.size()), &letter);
        if (length > 0 && static_cast<char32_t>(letter) >= first_beyond)
            letters.insert(static_cast<char32_t>(letter));
        text.remove_prefix(length > 0 ? static_cast<std::size_t>(length) : 1);
    }
}

void note_letters(Letters& letters, const LogState& log) {
    note_letters(letters, log.season.name);
    note_letters(letters, log.season.league);
    note_letters(letters, log.season.reviewer);
    for (const Team& team : log.teams)
        note_letters(letters, team.name);
    for (const Goalie& goalie : log.goalies)
        note_letters(letters, goalie.name);
    for (const Film& film : log.films)
        note_letters(letters, film.path);
    for (const ShotEntry& entry : log.shots)
        note_letters(letters, entry.shot.note);
    for (const std::string& tag : log.tags)
        note_letters(letters, tag);
    note_letters(letters, log.notice.text);
}

} // namespace ropeline
