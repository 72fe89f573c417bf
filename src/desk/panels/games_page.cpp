// Games and films: pick a game, start one, add its films, add a goalie.
#include "desk/panels/games_page.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>

namespace ropeline {

namespace {

void input(const char* id, const char* hint, std::string& text, float width) {
    ImGui::SetNextItemWidth(width);
    ImGui::InputTextWithHint(id, hint, &text);
}

void draw_games(const Panel& panel, const LogState& log, GamesForm& form) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    text_in(look.strong, c.text, "Games");
    if (ImGui::BeginChild("games", {0.0F, 11.0F * look.unit})) {
        if (log.games.empty()) wrapped_text("No game yet: start one below.", c.faint);
        for (std::size_t up = log.games.size(); up > 0; --up) {
            const std::size_t index = up - 1;
            const Game& game = log.games[index];
            const std::string label =
                fmt::format("{}   {} – {}##{}", game.date, team_name(log, game.home_team_id),
                            team_name(log, game.away_team_id), game.id);
            if (ImGui::Selectable(label.c_str(), game.id == log.selection.game_id()))
                panel.actions.push_back(ChooseGame{index});
        }
    }
    ImGui::EndChild();
    const float third = (ImGui::GetContentRegionAvail().x - 3.0F * look.unit) / 4.0F;
    input("##date", "date", form.date, third);
    ImGui::SameLine();
    input("##home", "home team", form.home, third);
    ImGui::SameLine();
    input("##away", "away team", form.away, third);
    ImGui::SameLine();
    if (word_button(look, "Start a game")) {
        if (form.date.empty() || form.home.empty() || form.away.empty()) {
            panel.actions.push_back(Tell{"A game needs a date and both teams.", true});
        } else {
            panel.actions.push_back(NewGame{form.date, form.home, form.away, log.season.rules});
        }
    }
}

void draw_films(const Panel& panel, const LogState& log, Pages& pages) {
    const Look& look = panel.look;
    GamesForm& form = pages.games_form;
    const Palette& c = look.colours;
    text_in(look.strong, c.text, "Films of this game");
    if (!chosen_game(log)) {
        wrapped_text("Pick or start a game first.", c.faint);
        return;
    }
    for (std::size_t index = 0; index < log.films.size(); ++index) {
        const Film& film = log.films[index];
        const std::string label = fmt::format("{}##{}", film.path, film.id);
        if (ImGui::Selectable(label.c_str(), film.id == open_film(log)))
            panel.actions.push_back(ShowFilm{index});
        if (std::ranges::find(form.gone, film.id) != form.gone.end()) {
            text_in(look.body, c.trouble,
                    "   is not there any more: drop the film on the desk, or type its new place below");
        }
    }
    if (log.films.empty()) wrapped_text("None yet. Drop a film on the desk, or type where it is:", c.faint);
    const float room = ImGui::GetContentRegionAvail().x - 10.0F * look.unit;
    ImGui::SetNextItemWidth(room);
    const bool entered =
        ImGui::InputTextWithHint("##film", "~/Videos/film.mp4, or a list of shots: ~/shots.csv", &form.film,
                                 ImGuiInputTextFlags_EnterReturnsTrue);
    ImGui::SameLine();
    if ((word_button(look, "Open") || entered) && !form.film.empty()) {
        pages.games = false;
        panel.actions.push_back(OpenFile{form.film});
    }
    ImGui::SameLine();
    if (word_button(look, "Choose")) panel.actions.push_back(ChooseFile{ChooserFor::film_or_list});
}

void draw_goalies(const Panel& panel, const LogState& log, GamesForm& form) {
    const Look& look = panel.look;
    text_in(look.strong, look.colours.text, "In net for new shots");
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    for (std::size_t index = 0; index < log.goalies.size(); ++index) {
        const Goalie& goalie = log.goalies[index];
        if (index > 0) wrap_chip(look, "", goalie.name, right);
        ImGui::PushID(goalie.id.c_str());
        if (chip(look, "goalie", "", goalie.name, goalie.id == log.goalie_id, false)) {
            panel.actions.push_back(PutInNet{goalie.id});
        }
        ImGui::PopID();
    }
    const float half = (ImGui::GetContentRegionAvail().x - 9.0F * look.unit) / 2.0F;
    input("##goalie", "goalie's name", form.goalie, half);
    ImGui::SameLine();
    input("##team", "team", form.team, half);
    ImGui::SameLine();
    if (word_button(look, "Add a goalie")) {
        if (form.goalie.empty() || form.team.empty()) {
            panel.actions.push_back(Tell{"A goalie needs a name and a team.", true});
        } else {
            panel.actions.push_back(NewGoalie{form.goalie, form.team});
        }
    }
}

} // namespace

void draw_games_page(const Panel& panel, const LogState& log, Pages& pages) {
    const Look& look = panel.look;
    const float unit = look.unit;
    begin_sheet(look, "games page", std::min(52.0F * unit, panel.place.width),
                std::min(38.0F * unit, panel.place.height));
    draw_page_heading(look, "Games and films");
    ImGui::Spacing();
    draw_games(panel, log, pages.games_form);
    ImGui::Dummy({1.0F, 0.6F * unit});
    draw_films(panel, log, pages);
    ImGui::Dummy({1.0F, 0.6F * unit});
    draw_goalies(panel, log, pages.games_form);
    ImGui::Dummy({1.0F, 0.6F * unit});
    if (word_button(look, "Bring in another coach's season"))
        panel.actions.push_back(ChooseFile{ChooserFor::other_season});
    ImGui::SameLine(0.0F, 0.6F * unit);
    quiet_text(look, "what was logged in a copy of this one");
    const Notice& notice = log.notice;
    if (!notice.text.empty()) {
        ImGui::Spacing();
        wrapped_text(notice.text, notice.trouble ? look.colours.trouble : look.colours.quiet);
    }
    ImGui::End();
}

} // namespace ropeline
