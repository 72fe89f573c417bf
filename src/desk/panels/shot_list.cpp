// The table of the game's shots.
#include "desk/panels/ui.h"

#include "season/clock_words.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

void cell(const App& app, std::string_view text, ImU32 colour) {
    ImGui::TableNextColumn();
    text_in(app.look.body, colour, text);
}

std::string when_words(const App& app, const ShotEntry& entry) {
    if (entry.shot.clock_s) return game_time_words(entry.shot.period, *entry.shot.clock_s);
    const LogState& log = app.book->state();
    const auto film = std::ranges::find(log.films, entry.shot.film_id, &Film::id);
    const double first = film != log.films.end() ? film->first_s.value_or(0.0) : 0.0;
    return clock_text(entry.shot.film_s - first);
}

} // namespace

void draw_shot_list(App& app, const Rect& place) {
    const Look& look = app.look;
    const Palette& c = look.colours;
    const LogState& log = app.book->state();
    begin_panel("list", place, c.panel);
    if (log.shots.empty()) {
        text_in(look.strong, c.quiet, "Shots");
        wrapped_text(app, "Every shot you log stands here, in film order.", c.faint);
        ImGui::End();
        return;
    }
    constexpr ImGuiTableFlags flags =
        ImGuiTableFlags_ScrollY | ImGuiTableFlags_RowBg | ImGuiTableFlags_SizingFixedFit;
    if (ImGui::BeginTable("shots", 7, flags)) {
        ImGui::TableSetupScrollFreeze(0, 1);
        ImGui::TableSetupColumn("#");
        ImGui::TableSetupColumn("time");
        ImGui::TableSetupColumn("");
        ImGui::TableSetupColumn("outcome", ImGuiTableColumnFlags_WidthStretch);
        ImGui::TableSetupColumn("band", ImGuiTableColumnFlags_WidthStretch);
        ImGui::TableSetupColumn("depth");
        ImGui::TableSetupColumn("read");
        ImGui::TableHeadersRow();
        static std::optional<std::size_t> shown;
        for (std::size_t index = 0; index < log.shots.size(); ++index) {
            const ShotEntry& entry = log.shots[index];
            const Moment* moment = main_moment(entry);
            const bool chosen = log.shot == index;
            ImGui::TableNextRow();
            ImGui::TableNextColumn();
            const std::string number = fmt::format("{}##{}", index + 1, index);
            if (ImGui::Selectable(number.c_str(), chosen, ImGuiSelectableFlags_SpanAllColumns)) {
                app.actions.push_back(PickShot{index});
            }
            if (chosen && shown != log.shot) ImGui::SetScrollHereY();
            cell(app, when_words(app, entry), c.quiet);
            ImGui::TableNextColumn();
            const ImVec2 at = ImGui::GetCursorScreenPos();
            draw_outcome(ImGui::GetWindowDrawList(), {at.x + 0.5F * look.unit, at.y + 0.55F * look.unit},
                         0.75F * look.unit, entry.shot.outcome, c);
            ImGui::Dummy({look.unit, look.unit});
            cell(app, entry.shot.outcome ? label_of(*entry.shot.outcome) : "open",
                 entry.shot.outcome ? c.text : c.rope);
            const bool read = moment && moment->reading;
            cell(app, read ? label_of(moment->reading->band) : "–", read ? c.text : c.faint);
            cell(app, read ? fmt::format("{:.2f}", moment->reading->depth_m) : "", c.quiet);
            const bool both = entry.shot.read && entry.shot.came;
            const bool wrong = both && key_of(*entry.shot.read) != key_of(*entry.shot.came) &&
                               (*entry.shot.came == NextAction::shot || *entry.shot.came == NextAction::pass);
            cell(app, !both ? "" : wrong ? "wrong" : "right", wrong ? c.trouble : c.quiet);
        }
        shown = log.shot;
        ImGui::EndTable();
    }
    ImGui::End();
}

} // namespace ropeline
