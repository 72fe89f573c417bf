// The Study side: the reads that were wrong, season-wide, each one click from its film.
#include "desk/panels/ui.h"

#include <fmt/core.h>

#include <algorithm>
#include <ranges>

namespace ropeline {

namespace {

bool was_wrong(const ShotFact& fact) {
    if (!fact.read || !fact.came) return false;
    return (*fact.read == Read::shot && *fact.came == NextAction::pass) ||
           (*fact.read == Read::pass && *fact.came == NextAction::shot);
}

void open_shot(App& app, const ShotFact& fact) {
    const LogState& log = app.book->state();
    const auto game = std::ranges::find(log.games, fact.game_id, &Game::id);
    if (game == log.games.end()) return;
    choose_game(app, static_cast<std::size_t>(game - log.games.begin()));
    const auto same_shot = [&](const ShotEntry& entry) { return entry.shot.id == fact.shot_id; };
    const auto shot = std::ranges::find_if(log.shots, same_shot);
    if (shot == log.shots.end()) return;
    const auto index = static_cast<std::size_t>(shot - log.shots.begin());
    const auto film = std::ranges::find(log.films, shot->shot.film_id, &Film::id);
    if (film != log.films.end()) choose_film(app, static_cast<std::size_t>(film - log.films.begin()));
    app.actions.push_back(PickShot{index});
    app.side = Side::log;
}

template <class Value>
void word_cell(const App& app, const std::optional<Value>& value) {
    ImGui::TableNextColumn();
    if (value) {
        ImGui::TextUnformatted(label_of(*value).data());
    } else {
        quiet_text(app, "–");
    }
}

} // namespace

void draw_study_side(App& app, const Rect& place) {
    const Look& look = app.look;
    const Palette& c = look.colours;
    begin_panel("study", place, c.panel);
    if (app.season_stale) refresh_season(app);
    const auto& facts = app.facts;
    const auto wrong = std::ranges::count_if(facts, was_wrong);
    const auto judged =
        std::ranges::count_if(facts, [](const ShotFact& fact) { return fact.read && fact.came; });
    text_in(look.heading, c.text, "Reads that were wrong");
    quiet_text(app,
               judged == 0
                   ? std::string{"No shot has both a read and what came yet: set them on the shot card."}
                   : fmt::format("{} of {} logged reads. Click one to see it on its film.", wrong, judged));
    ImGui::Spacing();
    constexpr ImGuiTableFlags flags =
        ImGuiTableFlags_ScrollY | ImGuiTableFlags_RowBg | ImGuiTableFlags_SizingFixedFit;
    if (wrong > 0 && ImGui::BeginTable("wrong", 8, flags)) {
        ImGui::TableSetupScrollFreeze(0, 1);
        for (const char* title :
             {"game", "goalie", "situation", "goalie read", "what came", "depth", "outcome"}) {
            ImGui::TableSetupColumn(title);
        }
        ImGui::TableSetupColumn("note", ImGuiTableColumnFlags_WidthStretch);
        ImGui::TableHeadersRow();
        for (const ShotFact& fact : std::views::reverse(facts)) { // the newest game first
            if (!was_wrong(fact)) continue;
            ImGui::TableNextRow();
            ImGui::TableNextColumn();
            const std::string label =
                fmt::format("{}  {} – {}##{}", fact.game_date, fact.home_team, fact.away_team, fact.shot_id);
            if (ImGui::Selectable(label.c_str(), false, ImGuiSelectableFlags_SpanAllColumns))
                open_shot(app, fact);
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(fact.goalie.c_str());
            word_cell(app, fact.situation);
            word_cell(app, fact.read);
            word_cell(app, fact.came);
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(
                fact.depth_m && fact.band
                    ? fmt::format("{}, {}", metres(*fact.depth_m), label_of(*fact.band)).c_str()
                    : "–");
            ImGui::TableNextColumn();
            const ImVec2 at = ImGui::GetCursorScreenPos();
            draw_outcome(ImGui::GetWindowDrawList(), {at.x + 0.4F * look.unit, at.y + 0.55F * look.unit},
                         0.75F * look.unit, fact.outcome, c);
            ImGui::Dummy({look.unit, look.unit});
            ImGui::SameLine();
            ImGui::TextUnformatted(fact.outcome ? label_of(*fact.outcome).data() : "open");
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(fact.note.c_str());
        }
        ImGui::EndTable();
    }
    ImGui::End();
}

} // namespace ropeline
