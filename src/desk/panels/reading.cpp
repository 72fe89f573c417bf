// What the moment says in figures, and what they rest on.
#include "desk/panels/reading.h"

#include "camera/fit_advice.h"
#include "desk/panels/pieces.h"
#include "desk/state/seen_twice.h"
#include "rink/units.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

void value_at_right(const Look& look, const std::string& value) {
    const float x =
        ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x - text_size(look.strong, value).x;
    ImGui::SameLine();
    if (x < ImGui::GetCursorScreenPos().x) ImGui::NewLine();
    ImGui::SetCursorScreenPos(
        {std::max(x, ImGui::GetWindowPos().x + 0.75F * look.unit), ImGui::GetCursorScreenPos().y});
    text_in(look.strong, look.colours.text, value);
}

void line(const Look& look, std::string_view label, const std::string& value) {
    quiet_text(look, label);
    value_at_right(look, value);
}

std::string side_words(const Look& look, double off_angle) {
    const std::string off = length_words(look, std::abs(off_angle));
    if (std::abs(off_angle) < 0.005) return off;
    return fmt::format("{} {}", off, off_angle > 0.0 ? "right" : "left");
}

std::string clearance_words(const Look& look, double clearance) {
    return fmt::format("{} {}", length_words(look, std::abs(clearance)),
                       clearance > 0.0 ? "outside" : "inside");
}

/// What the place of the marks does to the figures: far from the clicks of the fit, or above the ice.
void draw_cautions(const Look& look, const Moment& moment, const FitHere& here) {
    if (!here.fit) return;
    std::vector<ImagePoint> clicks;
    if (here.source == FitHere::Source::clicked) {
        for (const StoredLandmark& click : here.key->landmarks)
            clicks.push_back(click.at);
    }
    for (const Mark& mark : moment.marks) {
        if (!mark.at) continue;
        if (!clicks.empty() && extrapolated(clicks, *mark.at)) {
            wrapped_text(
                fmt::format("{}: extrapolated, far outside the clicks of the fit", label_of(mark.kind)),
                look.colours.rope);
        }
        const bool goalie = mark.kind == MarkKind::goalie || mark.kind == MarkKind::skate_left;
        if (const auto bias = goalie ? height_bias(*here.fit, *mark.at, pad_height_m) : std::nullopt) {
            quiet_text(look, length_words(look, pad_height_m) + " too high");
            if (ImGui::IsItemHovered()) {
                ImGui::SetTooltip(
                    "Marking a pad %s above the ice instead of the blade would move the mark %s away "
                    "from the camera, which hangs about %s above the ice.",
                    length_words(look, pad_height_m).c_str(), length_words(look, bias->shift_m).c_str(),
                    length_words(look, bias->camera_height_m).c_str());
            }
            value_at_right(look, length_words(look, bias->shift_m));
        }
    }
}

/// How far two cameras' places lie apart; their places stand under the film when the second one is in hand.
void draw_both_views(const Look& look, const LogState& log) {
    const auto [first, second] = both_views(log);
    if (!first) return;
    for (const SeenTwice& one : seen_twice(*first, *second)) {
        line(look, fmt::format("{} apart", one.what), length_words(look, one.apart_m));
        if (ImGui::IsItemHovered())
            ImGui::SetTooltip("Between the places that two cameras give. %s", agreement_words(one).c_str());
        if (one.agree == false) wrapped_text(agreement_words(one), look.colours.rope);
    }
}

} // namespace

void draw_figures(const Look& look, const LogPart& part) {
    const LogState& log = part.state();
    const auto& moment = part.view.moment;
    if (!moment || !moment->reading) {
        wrapped_text("The depth appears once goalie and puck are marked on a fitted rink.",
                     look.colours.faint);
        if (moment) draw_both_views(look, log);
        return;
    }
    const Judged* view = part.tried && part.view.judged ? &*part.view.judged : nullptr;
    const Reading reading = view ? view->decision.reading : *moment->reading;
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2{0.3F * look.unit, 0.15F * look.unit});
    const float swatch = 0.25F * look.unit;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddRectFilled(at, {at.x + swatch, at.y + look.heading->FontSize},
                                              look.colours.bands[static_cast<int>(reading.band)]);
    ImGui::SetCursorScreenPos({at.x + 2.0F * swatch, at.y});
    text_in(look.heading, look.colours.text, label_of(reading.band));
    if (!view && moment->band_odds_of_band && *moment->band_odds_of_band < 0.8) {
        wrapped_text(fmt::format("between bands: {:.0f} % sure", 100.0 * *moment->band_odds_of_band),
                     look.colours.rope);
    }
    const std::string sigma =
        !view && moment->depth_sigma_m ? " " + spread_words(look, *moment->depth_sigma_m) : "";
    line(look, "depth", length_words(look, reading.depth_m) + sigma);
    if (ImGui::IsItemHovered())
        ImGui::SetTooltip("± one standard deviation, from the rink fit and the clicks");
    draw_both_views(look, log);
    line(look, "paint", clearance_words(look, reading.clearance_m));
    line(look, "off angle", side_words(look, reading.off_angle_m));
    if (reading.square_error_rad) {
        line(look, "off square", fmt::format("{:.0f}°", std::abs(to_degrees(*reading.square_error_rad))));
    }
    if (reading.coverage) {
        const Coverage& net = *reading.coverage;
        line(look, "standing still, covered", fmt::format("{:.0f} %", 100.0 * net.covered));
        if (ImGui::IsItemHovered())
            ImGui::SetTooltip(
                "The share of the angle between the posts that the goalie hides without moving.");
        line(look, "short side", length_words(look, net.short_side.goal_line_m));
        line(look, "far side", length_words(look, net.far_side.goal_line_m));
    } else {
        wrapped_text("below the goal line: no net to cover", look.colours.quiet);
    }
    line(look, "time to react", fmt::format("{:.2f} s", reading.reaction_s));
    if (ImGui::IsItemHovered()) {
        ImGui::SetTooltip("A shot at %s along the ice, the season's setting for this level of play; "
                          "the net covered takes this goalie's blocking width to be %s.",
                          speed_words(look, part.view.parameters.shot_speed_mps).c_str(),
                          length_words(look, part.view.parameters.block_width_m).c_str());
    }
    draw_cautions(look, *moment, part.view.moment_fit);
    ImGui::PopStyleVar();
}

} // namespace ropeline
