// The stretch of film of one decision: before the answer it ends where the film stops, and holds nothing that was logged.
#include "desk/panels/study_side.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

namespace {

/// The strip, and the film time from one end of it to the other.
struct SeenStretch {
    const Look& look;
    ImDrawList* draw;
    Rect at;
    double first_s = 0.0, last_s = 1.0, stop_s = 0.0;
    float x(double film_s) const {
        const double share = (film_s - first_s) / std::max(1e-6, last_s - first_s);
        return at.x + at.width * static_cast<float>(std::clamp(share, 0.0, 1.0));
    }
    double film_s(float x_px) const {
        return first_s +
               (last_s - first_s) * std::clamp((x_px - at.x) / std::max(1.0F, at.width), 0.0F, 1.0F);
    }
};

/// Half seconds from the stop.
void draw_ticks(const SeenStretch& strip) {
    const Look& look = strip.look;
    const float foot = strip.at.y + strip.at.height;
    const int from = static_cast<int>(std::ceil(2.0 * (strip.first_s - strip.stop_s)));
    const int to = static_cast<int>(std::floor(2.0 * (strip.last_s - strip.stop_s)));
    for (int half = from; half <= to; ++half) {
        const float x = strip.x(strip.stop_s + 0.5 * half);
        const std::string words = half == 0 ? "stop" : fmt::format("{:+.1f} s", 0.5 * half);
        strip.draw->AddLine({x, foot}, {x, foot + 0.3F * look.unit}, look.colours.edge);
        if (half % 2 != 0) continue;
        const float width = text_size(look.body, words).x;
        const float left = std::clamp(x - 0.5F * width, strip.at.x, strip.at.x + strip.at.width - width);
        draw_text(strip.draw, look.body, {left, foot + 0.25F * look.unit}, look.colours.faint, words);
    }
}

/// Each with its name behind it or before it; where two lie so near together that neither has room, its line alone.
void draw_moments(const SeenStretch& strip, const LogPart& part, const FrameTable& frames) {
    const ShotEntry* entry = chosen_shot(part.state());
    if (!entry) return;
    struct Named {
        float x = 0.0F;
        std::string_view name;
    };
    std::vector<Named> moments;
    for (const Moment& moment : entry->moments) {
        if (moment.film_id == open_film(part.state()))
            moments.push_back(
                {strip.x(frames.seconds_of(frames.clamp(moment.frame))), label_of(moment.kind)});
    }
    std::ranges::sort(moments, {}, &Named::x);
    const Look& look = strip.look;
    const float beside = 0.25F * look.unit;
    float written = strip.at.x;
    for (std::size_t index = 0; index < moments.size(); ++index) {
        const auto& [x, name] = moments[index];
        strip.draw->AddLine({x, strip.at.y}, {x, strip.at.y + strip.at.height}, look.colours.rope,
                            look.pen(2.0F));
        const float wide = text_size(look.body, name).x;
        const float next = index + 1 < moments.size() ? moments[index + 1].x : strip.at.x + strip.at.width;
        const bool behind = x + wide + 2.0F * beside <= next;
        const float from = behind ? x + beside : x - beside - wide;
        if (!behind && from < written) continue;
        draw_text(strip.draw, look.body, {from, strip.at.y + 0.2F * look.unit}, look.colours.text, name);
        written = behind ? from + wide + beside : x;
    }
}

std::string film_words(const Player& player, bool answered) {
    const std::string tempo = player.tempo == 0 ? "" : fmt::format(" at {}", tempo_words(player.tempo));
    if (player.playing) return (player.clock.speed < 0.0 ? "running back" : "running") + tempo;
    return answered ? "holds" + (tempo.empty() ? tempo : ", runs" + tempo) : "";
}

} // namespace

void draw_study_ribbon(const Panel& panel, FilmStage& stage, const LogPart& part, const StudyTurn& turn) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    begin_panel("study ribbon", place, look.colours.panel);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const float pad = 0.9F * look.unit;
    const Rect at{place.x + pad, place.y + 1.75F * look.unit, place.width - 2.0F * pad, 1.35F * look.unit};
    draw->AddRectFilled(corner(at), far_corner(at), look.colours.raised, 0.2F * look.unit);
    const auto frames = frames_of(stage);
    if (!frames || !turn.on_film || turn.stop < 0) {
        draw_text(draw, look.body, {at.x, place.y + 0.3F * look.unit}, look.colours.quiet,
                  turn.on_film ? "" : "No film of this play: it is called on the plan.");
        return ImGui::End();
    }
    const bool answered = turn.phase == StudyPhase::answer;
    const auto seconds = [&](std::int64_t frame) { return frames->seconds_of(frames->clamp(frame)); };
    const SeenStretch strip{
        look, draw, at, seconds(turn.first), seconds(answered ? turn.last : turn.stop), seconds(turn.stop)};
    draw_ticks(strip);
    if (answered) draw_moments(strip, part, *frames);
    const float here = strip.x(frames->seconds_of(stage.player.frame));
    draw->AddLine({here, at.y - 0.3F * look.unit}, {here, at.y + at.height + 0.3F * look.unit},
                  look.colours.text, look.pen(2.0F));
    draw_text(draw, look.body, {at.x, place.y + 0.3F * look.unit}, look.colours.quiet,
              film_words(stage.player, answered));
    ImGui::SetCursorScreenPos({at.x, at.y - 0.5F * look.unit});
    ImGui::InvisibleButton("scrub", {std::max(1.0F, at.width), at.height + 0.8F * look.unit});
    if (ImGui::IsItemActive() && (ImGui::IsItemActivated() || ImGui::GetIO().MouseDelta.x != 0.0F))
        stage.player = at_frame(stage.player,
                                number(frames->shown_at(strip.film_s(ImGui::GetIO().MousePos.x))), *frames);
    ImGui::End();
}

} // namespace ropeline
