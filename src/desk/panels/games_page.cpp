// Games and films: pick a game, start one, add its films, add a goalie.
#include "desk/panels/ui.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <filesystem>

namespace ropeline {

namespace {

void input(const char* id, const char* hint, std::string& text, float width) {
    ImGui::SetNextItemWidth(width);
    ImGui::InputTextWithHint(id, hint, &text);
}

void draw_games(App& app) {
    const LogState& log = app.book->state();
    const Palette& c = app.look.colours;
    text_in(app.look.strong, c.text, "Games");
    if (ImGui::BeginChild("games", {0.0F, 11.0F * app.look.unit})) {
        if (log.games.empty()) wrapped_text(app, "No game yet: start one below.", c.faint);
        for (std::size_t up = log.games.size(); up > 0; --up) {
            const std::size_t index = up - 1;
            const Game& game = log.games[index];
            const std::string label =
                fmt::format("{}   {} – {}##{}", game.date, team_name(log, game.home_team_id),
                            team_name(log, game.away_team_id), game.id);
            if (ImGui::Selectable(label.c_str(), log.selection.game_id() == game.id)) choose_game(app, index);
        }
    }
    ImGui::EndChild();
    GamesForm& form = app.games_form;
    const float third = (ImGui::GetContentRegionAvail().x - 3.0F * app.look.unit) / 4.0F;
    input("##date", "date", form.date, third);
    ImGui::SameLine();
    input("##home", "home team", form.home, third);
    ImGui::SameLine();
    input("##away", "away team", form.away, third);
    ImGui::SameLine();
    if (word_button(app, "Start a game")) {
        if (form.date.empty() || form.home.empty() || form.away.empty()) {
            app.book->tell("A game needs a date and both teams.", true);
        } else {
            app.book->apply(NewGame{form.date, form.home, form.away, log.season.rules}, frame_at(app));
            if (!log.notice.trouble) {
                form.home.clear();
                form.away.clear();
                open_chosen_film(app);
            }
        }
    }
}

void draw_films(App& app) {
    const LogState& log = app.book->state();
    const Palette& c = app.look.colours;
    text_in(app.look.strong, c.text, "Films of this game");
    if (!chosen_game(log)) {
        wrapped_text(app, "Pick or start a game first.", c.faint);
        return;
    }
    for (std::size_t index = 0; index < log.films.size(); ++index) {
        const std::string& path = log.films[index].path;
        std::error_code failed;
        const bool there = std::filesystem::exists(resolved_path(app, path), failed);
        const std::string label = fmt::format("{}##{}", path, log.films[index].id);
        if (ImGui::Selectable(label.c_str(), open_film(log) == log.films[index].id))
            app.actions.push_back(ShowFilm{index});
        if (!there) {
            text_in(app.look.body, c.trouble,
                    "   is not there any more: drop the film on the desk, or type its new place below");
        }
    }
    if (log.films.empty())
        wrapped_text(app, "None yet. Drop a film on the desk, or type where it is:", c.faint);
    const float room = ImGui::GetContentRegionAvail().x - 9.0F * app.look.unit;
    ImGui::SetNextItemWidth(room);
    const bool entered =
        ImGui::InputTextWithHint("##film", "/path/to/film.mp4, or a list of shots: /path/to/shots.csv",
                                 &app.games_form.film, ImGuiInputTextFlags_EnterReturnsTrue);
    ImGui::SameLine();
    if ((word_button(app, "Open") || entered) && !app.games_form.film.empty()) {
        app.games_page = false;
        if (is_scorer_list(app.games_form.film)) {
            open_list(app, resolved_path(app, app.games_form.film));
        } else {
            open_film(app, app.games_form.film);
        }
    }
}

void draw_goalies(App& app) {
    const LogState& log = app.book->state();
    text_in(app.look.strong, app.look.colours.text, "In net for new shots");
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    for (std::size_t index = 0; index < log.goalies.size(); ++index) {
        const Goalie& goalie = log.goalies[index];
        if (index > 0) wrap_chip(app, "", goalie.name, right);
        ImGui::PushID(goalie.id.c_str());
        if (chip(app, "goalie", "", goalie.name, goalie.id == log.goalie_id, false)) {
            app.actions.push_back(PutInNet{goalie.id});
        }
        ImGui::PopID();
    }
    GamesForm& form = app.games_form;
    const float half = (ImGui::GetContentRegionAvail().x - 9.0F * app.look.unit) / 2.0F;
    input("##goalie", "goalie's name", form.goalie, half);
    ImGui::SameLine();
    input("##team", "team", form.team, half);
    ImGui::SameLine();
    if (word_button(app, "Add a goalie")) {
        if (form.goalie.empty() || form.team.empty()) {
            app.book->tell("A goalie needs a name and a team.", true);
        } else {
            app.book->apply(NewGoalie{form.goalie, form.team}, frame_at(app));
            if (!log.notice.trouble) form.goalie.clear();
        }
    }
}

} // namespace

void draw_games_page(App& app, float width, float height) {
    const float unit = app.look.unit;
    begin_sheet(app, "games page", std::min(52.0F * unit, width), std::min(38.0F * unit, height));
    text_in(app.look.heading, app.look.colours.text, "Games and films");
    ImGui::SameLine(0.0F, unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * unit);
    quiet_text(app, with_keys("[put_down] closes this page"));
    ImGui::Spacing();
    draw_games(app);
    ImGui::Dummy({1.0F, 0.6F * unit});
    draw_films(app);
    ImGui::Dummy({1.0F, 0.6F * unit});
    draw_goalies(app);
    const Notice& notice = app.book->state().notice;
    if (!notice.text.empty()) {
        ImGui::Spacing();
        wrapped_text(app, notice.text, notice.trouble ? app.look.colours.trouble : app.look.colours.quiet);
    }
    ImGui::End();
}

} // namespace ropeline
