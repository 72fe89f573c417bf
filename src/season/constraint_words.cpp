#include "season/constraint_words.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cctype>

namespace ropeline {
namespace {

struct Words {
    std::string_view begin; ///< of a column, or the name of a CHECK
    std::string_view wrong, remedy;
};

// The first that fits counts. {} is the number the schema's rule ends with.
constexpr std::array words = {
    Words{"name", "a name has more than {} letters", "Shorten it"},
    Words{"league", "the name of the league has more than {} letters", "Shorten it"},
    Words{"height_m", "a goalie's height is not between 1 and 2.5 metres", "Type it again"},
    Words{"blocking_width_m", "a goalie's width is not between 0.2 and 2 metres", "Type it again"},
    Words{"lateral_speed_mps", "a goalie's speed is not between 0.5 and 10 metres a second", "Type it again"},
    Words{"shooter_number", "a shooter's number is not between 0 and 99", "Type it again"},
    Words{"drill", "a drill has more than {} letters", "Shorten it"},
    Words{"tagged_by", "a name has more than {} letters", "Shorten it"},
    Words{"tagged_at", "the time of a shot's logging is not written as in 2026-11-25T14:03:00Z",
          "Write it so"},
    Words{"overruled_by", "a name has more than {} letters", "Shorten it"},
    Words{"overruled_at", "the time of an overruling is not written as in 2026-11-25T14:03:00Z",
          "Write it so"},
    Words{"reviewer", "a name has more than {} letters", "Shorten it"},
    Words{"word", "a tag is empty or has more than {} letters", "Shorten it"},
    Words{"note", "a note has more than {} letters", "Shorten it"},
    Words{"overrule_reason", "a reason has more than {} letters", "Shorten it"},
    Words{"path", "the path of a film is empty or has more than {} letters",
          "Move the film to a folder with a shorter one"},
    Words{"date", "the day of a game is not written as year, month and day", "Write it like 2026-11-25"},
    Words{"catches", "the hand a goalie catches with is neither left nor right", "Choose one"},
    Words{"period", "a period is not between 1 and 20", "Type it again"},
    Words{"clock_s", "a game clock is not between 0:00 and 120:00", "Type it again"},
    Words{"took_s", "an answer took longer than a day", "Answer again"},
    Words{"answered_by", "a name has more than {} letters", "Shorten it"},
    Words{"answered_at", "the time of an answer is not written as in 2026-11-25T14:03:00Z", "Write it so"},
    Words{"value", "a figure of the model is not between 0 and 1000", "Type it again"},
    Words{"x_px", "a click lies outside every picture", "Click again"},
    Words{"y_px", "a click lies outside every picture", "Click again"},
    Words{"sigma", "the rink fit says next to nothing of the place that was clicked",
          "Click nearer to the paint that was fitted, or fit the rink again"},
    Words{"depth_sigma_m", "the rink fit says next to nothing of the place that was clicked",
          "Click nearer to the paint that was fitted, or fit the rink again"},
    Words{"frame", "a frame lies before the film's beginning", "Step to the frame again"},
    Words{"film_s", "a time lies far outside any film", "Step to the frame again"},
    Words{"first_s", "the film's first or last time cannot be", "Open the film again"},
    Words{"last_s", "the film's first or last time cannot be", "Open the film again"},
    Words{"a_film_has_two_ends", "the film's first or last time cannot be", "Open the film again"},
    Words{"width_px", "the size of a picture cannot be", "Open the film again"},
    Words{"height_px", "the size of a picture cannot be", "Open the film again"},
    Words{"radial", "the rink fit cannot be", "Fit the rink again"},
    Words{"rms_px", "the rink fit cannot be", "Fit the rink again"},
    Words{"click_sigma_px", "the rink fit cannot be", "Fit the rink again"},
    Words{"image_from_ice", "the rink fit cannot be", "Fit the rink again"},
    Words{"ice_from_image", "the rink fit cannot be", "Fit the rink again"},
    Words{"covariance", "the rink fit cannot be", "Fit the rink again"},
};

// Where a mark lies, and every figure worked out from it.
constexpr std::array figures = {
    "ice_",   "new_",     "arrives_", "depth_",  "off_angle_", "clearance_", "crease_edge_",
    "reach_", "advised_", "square_",  "net_",    "open_",      "coverage",   "reaction_",
    "pass_",  "have_",    "need_",    "margin_", "turn_share", "out_share",  "band_odds"};

std::string sentence(std::string_view wrong, std::string_view remedy) {
    return fmt::format("{}, so nothing was changed. {}.", wrong, remedy);
}

/// The first name in the rule that is a column's, and the number it ends with.
std::string_view column_of(std::string_view rule) {
    for (const std::string_view function : {"length(", "instr("})
        if (rule.starts_with(function)) rule.remove_prefix(function.size());
    const auto end = std::ranges::find_if_not(
        rule, [](unsigned char letter) { return std::isalnum(letter) != 0 || letter == '_'; });
    return rule.substr(0, static_cast<std::size_t>(end - rule.begin()));
}

std::string_view last_number(std::string_view rule) {
    const auto last = rule.find_last_not_of("0123456789");
    return last == std::string_view::npos ? rule : rule.substr(last + 1);
}

std::string words_of_rule(std::string_view rule) {
    const std::string_view column = column_of(rule);
    for (const Words& row : words)
        if (column == row.begin || (row.begin == "sigma" && column.starts_with(row.begin)))
            return sentence(fmt::format(fmt::runtime(row.wrong), last_number(rule)), row.remedy);
    const auto begins = [&](std::string_view figure) { return column.starts_with(figure); };
    if (std::ranges::any_of(figures, begins))
        return sentence("a mark lies too far away to be on this ice, more than 200 m from the net",
                        "Click lower in the picture, or fit the rink again");
    return sentence("a value is outside what a season can hold",
                    "Check what was typed last, then do it again");
}

} // namespace

std::string constraint_words(std::string_view message) {
    const auto colon = message.find(": ");
    const std::string_view rule =
        colon == std::string_view::npos ? std::string_view{} : message.substr(colon + 2);
    if (message.starts_with("FOREIGN KEY"))
        return sentence("what it belongs to is not in this season any more",
                        "Open the season again, then do it again");
    if (message.starts_with("UNIQUE") && rule.starts_with("clock_mark"))
        return sentence("this frame has a clock mark already", "Change that one");
    if (message.starts_with("UNIQUE"))
        return sentence("the season has it already", "Change the one that is there");
    return words_of_rule(rule);
}

} // namespace ropeline
