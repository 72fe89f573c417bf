// The list of decisions that are asked. Nothing here tells what came: no outcome, read, verdict or note.
#include "desk/panels/study_side.h"

#include "desk/panels/exports_page.h"
#include "desk/panels/season_filter.h"
#include "desk/state/study_words.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace ropeline {

namespace {

/// The next widget on this line while it fits, else on the next.
void beside(const Look& look, float width) {
    const ImVec2 end = ImGui::GetItemRectMax();
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    if (end.x + 0.6F * look.unit + width <= right) ImGui::SameLine(0.0F, 0.6F * look.unit);
}

void draw_who_answers(const Panel& panel, const LogState& log, const Settings& settings, StudyPart& study) {
    const Look& look = panel.look;
    const float right = panel.place.x + panel.place.width - look.unit;
    ImGui::AlignTextToFramePadding();
    text_in(look.strong, settings.answers_as.empty() ? look.colours.rope : look.colours.text,
            settings.answers_as.empty() ? "Who answers? Choose:" : "I am");
    ImGui::SameLine(0.0F, 0.6F * look.unit);
    std::vector<std::string> names;
    if (!settings.answers_as.empty()) names.push_back(settings.answers_as);
    constexpr std::size_t most_names = 6;
    for (const Goalie& goalie : log.goalies)
        if (names.size() < most_names && std::ranges::find(names, goalie.name) == names.end())
            names.push_back(goalie.name);
    for (std::size_t index = 0; index < names.size(); ++index) {
        const std::string name = shortened(look.body, names[index], 16.0F * look.unit);
        if (index > 0) wrap_chip(look, "", name, right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(look, "who", "", name, names[index] == settings.answers_as, false))
            panel.actions.push_back(SayWhoAnswers{names[index]});
        ImGui::PopID();
    }
    beside(look, 11.0F * look.unit);
    ImGui::SetNextItemWidth(11.0F * look.unit);
    if (ImGui::InputTextWithHint("##another", settings.answers_as.empty() ? "or type a name" : "another name",
                                 &study.typed_name, ImGuiInputTextFlags_EnterReturnsTrue))
        panel.actions.push_back(SayWhoAnswers{study.typed_name});
}

void draw_how_it_is_asked(const Panel& panel, const Settings& settings) {
    const Look& look = panel.look;
    const int now_ms = static_cast<int>(std::lround(1000.0 * settings.stops_before_s));
    std::set<int> stops_ms = {0, 50, 100, 150, 200, 300};
    stops_ms.insert(now_ms);
    std::vector<Choice> stops;
    for (const int ms : stops_ms)
        stops.push_back({std::to_string(ms),
                         ms == 0 ? "at pass or release" : fmt::format("{} ms before pass or release", ms)});
    ImGui::AlignTextToFramePadding();
    quiet_text(look, "The film stops");
    ImGui::SameLine(0.0F, 0.6F * look.unit);
    if (const auto ms = chosen_of(look, "##stops", 17.0F, "", stops, std::to_string(now_ms)))
        panel.actions.push_back(StopFilmBefore{0.001 * std::stoi(*ms)});
    beside(look, 9.0F * look.unit);
    if (chip(look, "how sure", "", "ask how sure", settings.ask_how_sure, false))
        panel.actions.push_back(AskHowSure{!settings.ask_how_sure});
}

void draw_whats(const Look& look, StudyPart& study, float right) {
    for (int index = 0; index < study_whats; ++index) {
        const auto what = static_cast<StudyWhat>(index);
        const std::string key = std::to_string(index + 1);
        const std::string word = what == StudyWhat::due && study.due > 0
                                     ? fmt::format("{}: {}", label_of(what), study.due)
                                     : std::string{label_of(what)};
        if (index > 0) wrap_chip(look, key, word, right);
        ImGui::PushID(index);
        if (chip(look, "what", key, word, study.filter.what == what, false)) study.filter.what = what;
        ImGui::PopID();
    }
}

void draw_filters(const Look& look, const LogState& log, StudyPart& study) {
    StudyFilter& filter = study.filter;
    constexpr float units = 11.5F, day_units = 7.5F;
    const auto pick = [&](const char* id, const char* all, const std::vector<Choice>& choices,
                          std::string& key) {
        if (const auto picked = chosen_of(look, id, units, all, choices, key)) key = *picked;
    };
    std::vector<Choice> goalies, games, situations, tags;
    for (const Goalie& one : log.goalies)
        goalies.push_back({one.id, one.name});
    for (const Game& one : log.games)
        games.push_back({one.id, fmt::format("{}  {} – {}", one.date, team_name(log, one.home_team_id),
                                             team_name(log, one.away_team_id))});
    constexpr int all_situations = 6;
    for (int index = 0; index < all_situations; ++index) {
        const auto one = static_cast<Situation>(index);
        situations.push_back({std::string{key_of(one)}, std::string{label_of(one)}});
    }
    for (const std::string& tag : study.tags)
        tags.push_back({tag, tag});
    pick("##goalie", "every goalie", goalies, filter.goalie_id);
    beside(look, units * look.unit);
    pick("##game", "every game", games, filter.game_id);
    beside(look, units * look.unit);
    std::string situation = filter.situation ? std::string{key_of(*filter.situation)} : "";
    pick("##situation", "any situation", situations, situation);
    filter.situation = from_key<Situation>(situation);
    if (!tags.empty()) {
        beside(look, units * look.unit);
        pick("##tag", "any tag", tags, filter.tag);
    }
    beside(look, day_units * look.unit);
    draw_day(look, "##since", "since", day_units, study.typed_since, filter.since);
    beside(look, 4.0F * look.unit);
    if (chip(look, "goals", "", "goals", filter.goals, false)) filter.goals = !filter.goals;
    beside(look, 15.0F * look.unit);
    if (chip(look, "plan", "", "without film, on the plan", filter.without_film, false))
        filter.without_film = !filter.without_film;
}

std::string list_words(const StudyQueue& queue) {
    const auto size = queue.decisions.size();
    std::string words = fmt::format("{} decision{}", size, size == 1 ? "" : "s");
    if (queue.without_film > 0) words += fmt::format("; {} without film left out", queue.without_film);
    if (queue.held_back > 0)
        words += fmt::format("; {} more of these plays for another day", queue.held_back);
    if (queue.mixed_in > 0)
        words += fmt::format("; {} that were read right are among them, so that the list tells no read",
                             queue.mixed_in);
    return words + ".";
}

void draw_so_far(const Look& look, const Settings& settings, const StudyPart& study) {
    if (settings.answers_as.empty()) // as high as what follows, so that Begin stands still
        return wrapped_text("Choose or type at the head of the page who answers, then begin.",
                            look.colours.quiet);
    if (study.progress.sittings.empty())
        return wrapped_text(
            "No answers yet. [take_shot] begins: the film runs up and stops, you call it and click on the "
            "plan where to stand, then the play runs on.",
            look.colours.quiet);
    const StudySum& sum = study.progress.all;
    wrapped_text(fmt::format("So far, with 95 % intervals, each decision once: read it {}; right place {}.",
                             right_of_words(sum.calls), right_of_words(sum.places)),
                 look.colours.quiet);
}

void draw_row(const Panel& panel, const StudyPart& study, const StudyDecision& one) {
    const Look& look = panel.look;
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    const std::string label = fmt::format("{}##{}", play_words(one), one.moment_id);
    if (ImGui::Selectable(label.c_str(), false, ImGuiSelectableFlags_SpanAllColumns))
        panel.actions.push_back(StudyMoment{one.moment_id});
    const auto cell = [&](const std::string& words) {
        ImGui::TableNextColumn();
        quiet_text(look, words);
    };
    cell(shortened(look.body, one.goalie, 12.0F * look.unit));
    cell(one.situation ? std::string{label_of(*one.situation)} : "–");
    cell(one.on_film ? "film" : "plan");
    const auto so_far = study.so_far.find(one.moment_id);
    const bool any = so_far != study.so_far.end();
    cell(!any ? "–" : so_far->second.times == 1 ? "once" : fmt::format("{} times", so_far->second.times));
    cell(!any || so_far->second.due_on.empty() ? "–"
         : so_far->second.due_on <= study.day  ? "today"
                                               : so_far->second.due_on);
}

void draw_table(const Panel& panel, const StudyPart& study) {
    constexpr ImGuiTableFlags flags =
        ImGuiTableFlags_ScrollY | ImGuiTableFlags_RowBg | ImGuiTableFlags_SizingFixedFit;
    const auto& decisions = study.queue.decisions;
    if (decisions.empty() || !ImGui::BeginTable("decisions", 6, flags)) return;
    ImGui::TableSetupScrollFreeze(0, 1);
    for (const char* title : {"play", "goalie", "situation", "on", "answered", "comes back"})
        ImGui::TableSetupColumn(title);
    ImGui::TableHeadersRow();
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(decisions.size()));
    while (clipper.Step()) {
        for (int row = clipper.DisplayStart; row < clipper.DisplayEnd; ++row)
            draw_row(panel, study, decisions[static_cast<std::size_t>(row)]);
    }
    ImGui::EndTable();
}

} // namespace

void draw_study_list(const Panel& panel, const LogState& log, const Settings& settings, StudyPart& study,
                     const ExportPart& exports) {
    const Look& look = panel.look;
    const float right = panel.place.x + panel.place.width - look.unit;
    begin_panel("study", panel.place, look.colours.panel, it_scrolls);
    draw_who_answers(panel, log, settings, study);
    draw_how_it_is_asked(panel, settings);
    ImGui::Spacing();
    draw_whats(look, study, right);
    draw_filters(look, log, study);
    ImGui::Spacing();
    wrapped_text(list_words(study.queue), look.colours.text);
    draw_so_far(look, settings, study);
    if (word_button(look, "Begin", !study.queue.decisions.empty() && !settings.answers_as.empty()))
        panel.actions.push_back(Press{Command::take_shot});
    if (!study.progress.sittings.empty()) {
        ImGui::SameLine();
        if (word_button(look, "How it went")) panel.actions.push_back(ShowSitting{});
    }
    ImGui::SameLine(0.0F, look.unit);
    draw_export_button(panel, exports);
    ImGui::Spacing();
    if (study.queue.decisions.empty())
        wrapped_text(why_empty(study.decisions.size(), study.filter, study.queue), look.colours.quiet);
    const Notice& notice = log.notice;
    wrapped_text(notice.text.empty() ? " " : notice.text, // its room is kept, so that the list stands still
                 notice.trouble ? look.colours.trouble : look.colours.text);
    draw_table(panel, study);
    ImGui::End();
}

} // namespace ropeline
