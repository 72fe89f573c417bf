#include "desk/panels/other_films.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>

namespace ropeline {

namespace {

/// The line itself, with the film's shots where they are.
void draw_film_line(const Look& look, const Rect& row, const LogState& log, const Film& film, bool hovered) {
    const Palette& c = look.colours;
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const float middle = row.y + 0.5F * row.height;
    const float from = row.x;
    const float to = row.x + row.width;
    draw->AddLine({from, middle}, {to, middle}, hovered ? c.rope : c.edge, 0.35F * look.unit);
    const double first = film.first_s.value_or(0.0);
    double last = film.last_s.value_or(first);
    for (const ShotEntry& entry : log.shots)
        if (entry.shot.film_id == film.id) last = std::max(last, entry.shot.film_s);
    for (const ShotEntry& entry : log.shots) {
        const Shot& shot = entry.shot;
        if (shot.film_id != film.id) continue;
        const double share = std::clamp((shot.film_s - first) / std::max(last - first, 1e-6), 0.0, 1.0);
        const float x = from + (to - from) * static_cast<float>(share);
        if (shot.id == log.selection.shot_id())
            draw->AddRectFilled({x - 0.45F * look.unit, row.y}, {x + 0.45F * look.unit, row.y + row.height},
                                faded(c.rope, 0.35F));
        draw_outcome(draw, {x, middle}, std::min(0.55F * look.unit, row.height), shot.outcome, c);
    }
}

void draw_name(const Look& look, const Rect& row, float room, const std::string& name, bool hovered) {
    const float size = std::min(look.body->FontSize, row.height);
    if (size <= 0.6F * look.body->FontSize) return;
    ImDrawList* draw = ImGui::GetWindowDrawList();
    draw->PushClipRect({row.x, row.y}, {row.x + room - 0.5F * look.unit, row.y + row.height}, true);
    draw->AddText(look.body, size, {row.x, row.y + 0.5F * (row.height - size)},
                  hovered ? look.colours.rope : look.colours.quiet, name.c_str());
    draw->PopClipRect();
}

} // namespace

void draw_other_films(const Panel& panel, const LogState& log, float left, float width) {
    const Look& look = panel.look;
    const int others = static_cast<int>(log.films.size()) - (chosen_film(log) ? 1 : 0);
    int line = 0;
    for (std::size_t index = 0; index < log.films.size(); ++index) {
        const Film& film = log.films[index];
        if (film.id == open_film(log)) continue;
        Rect row = other_film_line(panel.place, look.unit, others, line++);
        row.x = left;
        row.width = width;
        ImGui::SetCursorScreenPos({left, row.y});
        ImGui::PushID(static_cast<int>(index));
        if (ImGui::InvisibleButton("film", {std::max(1.0F, width), std::max(1.0F, row.height)}))
            panel.actions.push_back(ShowFilm{index});
        ImGui::PopID();
        const bool hovered = ImGui::IsItemHovered();
        if (hovered)
            ImGui::SetTooltip("Film %zu: %s. %s", index + 1, film.path.c_str(),
                              with_keys("A click opens it; [next_film] opens the next.").c_str());
        const float words = std::min(13.0F * look.unit, 0.3F * width);
        draw_name(look, row, words,
                  fmt::format("{}  {}", index + 1, std::filesystem::path(film.path).filename().string()),
                  hovered);
        draw_film_line(look, {left + words, row.y, width - words, row.height}, log, film, hovered);
    }
}

} // namespace ropeline
