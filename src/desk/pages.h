// The pages and fields that take the keys while they are open, and what is typed in them.
#pragma once

#include "desk/state/card.h"
#include "desk/state/frame_at.h"
#include "season/records.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

/// What the games page asks for.
struct GamesForm {
    std::string date, home, away, goalie, team, film;
    std::vector<Id> gone;                    ///< films that are not where they were
    std::optional<std::uint64_t> looked_for; ///< the log's revision when they were
};

/// The small field for the game clock over the picture.
enum class ClockField { closed, set, go_to };
struct ClockEntry {
    ClockField field = ClockField::closed;
    std::string text;
    bool sent = false; ///< it closes once the log book took what was typed
};

/// A reviewer's verdict: the reason first, then the number keys choose.
struct OverruleForm {
    bool open = false;
    std::string reason;
    bool written = false;
};

/// A number chooses at once while no reason is begun.
bool number_chooses(const OverruleForm& form);

/// What is typed on the shot card.
struct CardEntry {
    bool note_open = false;
    std::string note, clock;
    Id clock_of; ///< the shot whose clock is being typed
    Id texts_of; ///< the shot whose tags, drill or number are being typed
    std::array<std::string, 3> texts;
    CardField in_sight{}; ///< the line that a low card was scrolled to
};

/// A figure behind the model while it is typed.
struct ParameterEntry {
    std::string_view key; ///< empty: none
    double typed = 0.0;
};

/// What is typed on the page "what we log".
struct LoggingEntry {
    bool naming = false;
    std::string reviewer;
    Id goalie; ///< whose figures are typed; empty: nobody's
    std::array<double, 3> figures{};
};

/// A shot that is to be moved to another frame, before its marks go.
struct MovingShot {
    Id shot_id;
    FrameAt to;
    std::string question, cost;
};

struct Pages {
    bool key_sheet = false, games = false, parameters = false, what_we_log = false;
    bool start = false;    ///< the start page, over a season
    bool unfolded = false; ///< the whole card and every figure stand where the crease does
    std::optional<MovingShot> moving;
    GamesForm games_form;
    ClockEntry clock;
    OverruleForm overrule;
    CardEntry card;
    LoggingEntry logging;
    ParameterEntry parameter;
};

/// One of them is open.
bool any_open(const Pages& pages);
void close_all(Pages& pages);
/// The fields over picture and card, which belong to the Log side.
void close_log_fields(Pages& pages);

} // namespace ropeline
