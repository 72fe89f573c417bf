#include "desk/panels/headline.h"

#include "desk/state/seen_twice.h"
#include "desk/state/shot_list.h"
#include "season/play.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>
#include <cmath>

namespace ropeline {

namespace {

/// What the band says: a word or two, why, what follows from it; at its right end a figure and what is said of it.
struct Headline {
    std::optional<Verdict> verdict;
    std::string word, why, below, figure, spread, of_figure;
    bool tried = false;
    bool written = false; ///< there are words of the coach's below: the large type has not every letter
};

/// "Over-challenged: 0.9 m too far out to get to the pass" in its two halves.
std::pair<std::string, std::string> halves(const std::string& sentence) {
    const auto colon = sentence.find(": ");
    if (colon == std::string::npos) return {sentence, {}};
    return {sentence.substr(0, colon), sentence.substr(colon + 2)};
}

constexpr double as_likely_not = 0.5; ///< of the trials that share a verdict

std::string lower_first(std::string words) {
    if (!words.empty())
        words.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(words.front())));
    return words;
}

std::string firmness_words(const TurnView& view) {
    if (!view.firmness_known) return {};
    if (!view.firmness || view.firmness->turns_on.empty()) return "firm";
    return fmt::format("{} {} %", view.firmness->share >= firm_from ? "firm" : "close call",
                       same_of_100(*view.firmness));
}

Headline headline_of(const Look& look, const LogPart& part, const Moment& moment) {
    const TurnView& view = part.view;
    Headline all;
    all.tried = part.tried.has_value();
    if (!is_step(moment)) {
        all.word = "The same moment, by a second camera";
        const auto [first, second] = both_views(part.state());
        const auto compared = first ? seen_twice(*first, *second) : std::vector<SeenTwice>{};
        for (const SeenTwice& one : compared)
            all.why += fmt::format("{}{} {} apart", all.why.empty() ? "" : ", ", one.what,
                                   length_words(look, one.apart_m));
        if (compared.empty()) all.why = "fit the rink on this film too";
        all.below = "The verdict is the first camera's.";
        return all;
    }
    if (!view.judged) {
        all.word = "Not measured";
        all.why = waits_for_rink(moment) ? with_keys("the rink is not known here: [fit_rink] fits it")
                                         : "mark the goalie and the puck on the ice";
        return all;
    }
    const Decision& decision = view.judged->decision;
    const bool overruled = !all.tried && moment.overruled;
    all.verdict = overruled ? *moment.overruled : decision.verdict;
    std::tie(all.word, all.why) = halves(view.judged->headline);
    if (!view.judged->figures.empty()) all.below = view.judged->figures.front();
    if (overruled) {
        all.word = label_of(*moment.overruled);
        all.word.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(all.word.front())));
        all.why = "your verdict";
        all.written = !moment.overrule_reason.empty();
        all.below = (all.written ? moment.overrule_reason + ".  " : "No reason given.  ") +
                    "The model's: " + view.judged->headline;
    }
    if (all.tried)
        all.below =
            with_keys("Tried on the plan, kept nowhere: [keep_tried] keeps it, [put_down] goes back.");
    if (!overruled && view.firmness_known && view.firmness && view.firmness->share < as_likely_not &&
        !view.firmness->turns_on.empty()) {
        all.why = lower_first(all.word) + ", or " + std::string{label_of(view.firmness->becomes)};
        all.word = "Close call";
    }
    all.figure = length_words(look, decision.reading.depth_m);
    if (!all.tried && moment.depth_sigma_m) all.spread = spread_words(look, *moment.depth_sigma_m);
    all.of_figure = firmness_words(view);
    return all;
}

/// The largest of the fonts in which it fits, in falling order; in the last one it ends in dots, and the pointer shows all of it.
void draw_fitting(ImDrawList* draw, std::initializer_list<ImFont*> fonts, const Rect& room, ImU32 colour,
                  const std::string& text) {
    ImFont* font = *(fonts.end() - 1);
    for (auto tried = fonts.end(); tried != fonts.begin();) {
        --tried;
        if (text_size(*tried, text).x <= room.width) font = *tried;
    }
    const std::string shown = shortened(font, text, room.width);
    draw_text(draw, font, {room.x, room.y + 0.5F * (room.height - font->FontSize)}, colour, shown);
    if (shown != text && ImGui::IsMouseHoveringRect(corner(room), far_corner(room)) &&
        ImGui::IsWindowHovered())
        ImGui::SetTooltip("%s", text.c_str());
}

} // namespace

void draw_headline(const Panel& panel, const LogPart& part) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    const Rect& place = panel.place;
    begin_panel("headline", place, c.panel);
    const Moment* moment = moment_in_hand(part.state());
    if (!moment) return ImGui::End();
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const Headline said = headline_of(look, part, *moment);
    const float hero = look.type.hero, fact = look.type.fact;
    const float pad = 0.3F * look.unit, edge = look.unit;
    const float top = place.y + pad, below = top + hero + 0.5F * pad;
    float left = place.x + edge;
    if (said.verdict) {
        draw_verdict(draw, {left + 0.4F * hero, top + 0.5F * hero}, 0.72F * hero, *said.verdict, c);
        left += 1.05F * hero;
    }
    const float end = place.x + place.width - edge;
    const float figure_at = end - text_size(look.figure, said.figure).x;
    const float spread_at = figure_at - 0.6F * edge - text_size(look.heading, said.spread).x;
    const float of_figure_at = end - text_size(look.fact, said.of_figure).x;
    const float right = said.figure.empty() ? end : spread_at - 1.5F * edge;
    const float right_below = said.of_figure.empty() ? end : of_figure_at - 1.5F * edge;
    const bool roomy = text_size(look.figure, said.word).x <= right - left;
    const float word = draw_text(draw, roomy ? look.figure : look.fact, {left, top}, c.text, said.word).x;
    const float beside = left + word + 0.8F * edge;
    // Beside the word where it fits in its size; else it takes the line below, and what stood there is unfolded.
    const bool fits = beside + text_size(look.fact, said.why).x <= right;
    if (fits) draw_text(draw, look.fact, {beside, top + capital_share * (hero - fact)}, c.text, said.why);
    const std::string& second = fits || said.why.empty() || said.tried ? said.below : said.why;
    draw_fitting(draw, {said.written ? look.heading : look.fact, look.heading, look.strong},
                 {place.x + edge, below, right_below - place.x - edge, fact + 0.5F * pad},
                 said.tried ? c.rope
                 : fits     ? c.quiet
                            : c.text,
                 second);
    draw_text(draw, look.figure, {figure_at, top}, c.text, said.figure);
    draw_text(draw, look.heading, {spread_at, top + capital_share * (hero - look.heading->FontSize)}, c.quiet,
              said.spread);
    draw_text(draw, look.fact, {of_figure_at, below}, c.quiet, said.of_figure);
    ImGui::End();
}

} // namespace ropeline
