// How a sitting went, what comes back, and the progress by situation over the last sittings.
#include "desk/panels/study_side.h"

#include "desk/state/study_words.h"
#include "season/dates.h"

#include <fmt/core.h>

namespace ropeline {

namespace {

std::string short_words(const RightOf& count) {
    return count.of == 0 ? "–" : fmt::format("{} of {}", count.right, count.of);
}

void draw_sitting(const Look& look, const StudyProgress& progress) {
    const StudySum& sum = progress.last;
    const auto answers = progress.sittings.back().size();
    text_in(look.heading, look.colours.text, "Last sitting");
    wrapped_text(
        fmt::format("{} answer{} on {}. Read it: {}. Right place: {}. In brackets the 95 % intervals.",
                    answers, answers == 1 ? "" : "s", day_of(progress.sittings.back().front().answered_at),
                    right_of_words(sum.calls), right_of_words(sum.places)),
        look.colours.text);
    if (sum.gave_away)
        wrapped_text(
            fmt::format("On average over {} place{} {:.1f} % of the net was given away, by the model.",
                        sum.weighed, sum.weighed == 1 ? "" : "s", 100.0 * *sum.gave_away),
            look.colours.text);
    for (const auto& [sure, count] : sum.by_sureness)
        wrapped_text(fmt::format("Calls that were {}: {} right.", label_of(sure), short_words(count)),
                     look.colours.quiet);
}

void draw_wrong(const Panel& panel, const StudyPart& study) {
    const Look& look = panel.look;
    if (study.progress.wrong_now.empty()) return;
    ImGui::Spacing();
    text_in(look.strong, look.colours.text, "Answered wrong, to look at again");
    for (const StudyDecision& one : study.progress.wrong_now) {
        const std::string words =
            fmt::format("{}  {}", play_words(one), one.situation ? label_of(*one.situation) : "");
        const std::string label =
            shortened(look.body, words, ImGui::GetContentRegionAvail().x) + "##" + one.moment_id;
        if (ImGui::Selectable(label.c_str())) panel.actions.push_back(StudyMoment{one.moment_id});
    }
}

void draw_coming_back(const Look& look, const StudyPart& study) {
    ImGui::Spacing();
    text_in(look.heading, look.colours.text, "Comes back");
    if (study.progress.coming_back.empty())
        return wrapped_text("Nothing: what was answered wrong comes back after 1, 3, 7, 16 and 35 days.",
                            look.colours.quiet);
    int shown = 0;
    for (const auto& [day, count] : study.progress.coming_back) {
        if (++shown > 8) return quiet_text(look, "…");
        const std::string when = day <= study.day                  ? "today"
                                 : day == days_after(study.day, 1) ? "tomorrow"
                                                                   : day;
        wrapped_text(fmt::format("{}: {}", when, count), look.colours.text);
    }
}

void draw_situations(const Look& look, const StudyProgress& progress) {
    ImGui::Spacing();
    text_in(look.heading, look.colours.text, "By situation");
    wrapped_text(
        "Read it / right place, the last sittings and all of them with 95 % intervals. Each decision counts "
        "once: in a sitting by its first answer, in all by its last sitting.",
        look.colours.quiet);
    if (progress.situations.empty()) return;
    const int sittings = static_cast<int>(progress.situations.front().sittings.size());
    constexpr ImGuiTableFlags flags =
        ImGuiTableFlags_RowBg | ImGuiTableFlags_SizingFixedFit | ImGuiTableFlags_ScrollX;
    const float tall = ImGui::GetTextLineHeightWithSpacing() *
                       (3.0F + 2.0F * static_cast<float>(progress.situations.size()));
    if (!ImGui::BeginTable("situations", 3 + sittings, flags, {0.0F, tall + ImGui::GetStyle().ScrollbarSize}))
        return;
    ImGui::TableSetupColumn("situation");
    const auto first = progress.sittings.size() - static_cast<std::size_t>(sittings);
    for (int index = 0; index < sittings; ++index) {
        const auto& sitting = progress.sittings[first + static_cast<std::size_t>(index)];
        ImGui::TableSetupColumn(fmt::format("{}##{}", day_of(sitting.front().answered_at), index).c_str());
    }
    ImGui::TableSetupColumn("all: read it");
    ImGui::TableSetupColumn("all: right place");
    ImGui::TableHeadersRow();
    for (const SituationProgress& row : progress.situations) {
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(row.situation ? label_of(*row.situation).data() : "not said");
        for (const StudySum& sum : row.sittings) {
            ImGui::TableNextColumn();
            quiet_text(look, short_words(sum.calls) + " / " + short_words(sum.places));
        }
        for (const RightOf& count : {row.all.calls, row.all.places}) {
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(right_of_words(count).c_str());
        }
    }
    ImGui::EndTable();
}

} // namespace

void draw_study_sum(const Panel& panel, const Settings& settings, const StudyPart& study) {
    const Look& look = panel.look;
    begin_panel("study sum", panel.place, look.colours.panel, it_scrolls);
    if (word_button(look, "Back to the list", true)) panel.actions.push_back(Press{Command::take_shot});
    ImGui::SameLine();
    quiet_text(look, shortened(look.body, settings.answers_as, 24.0F * look.unit));
    ImGui::Spacing();
    if (study.progress.sittings.empty()) {
        wrapped_text("No answers yet.", look.colours.quiet);
    } else {
        draw_sitting(look, study.progress);
        draw_wrong(panel, study);
        draw_coming_back(look, study);
        draw_situations(look, study.progress);
    }
    ImGui::End();
}

} // namespace ropeline
