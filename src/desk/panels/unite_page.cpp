#include "desk/panels/unite_page.h"

#include "sheet/counted.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {

namespace {

struct KeepWord {
    Keep keep{};
    const char* word;
};
constexpr std::array keep_words{KeepWord{Keep::mine, "mine"}, KeepWord{Keep::theirs, "theirs"},
                                KeepWord{Keep::newer, "the newer"}};

/// A word of the season file as a coach reads it; what somebody wrote stays as it is.
std::string read_out(std::string text) {
    const auto is_of_word = [](char letter) { return (letter >= 'a' && letter <= 'z') || letter == '_'; };
    if (std::ranges::all_of(text, is_of_word)) std::ranges::replace(text, '_', ' ');
    return text;
}

/// With who changed it there, and when.
std::string words_of(const KeepWord& one, const MergeConflict& conflict) {
    const std::string changed = one.keep == Keep::mine     ? conflict.mine_changed
                                : one.keep == Keep::theirs ? conflict.theirs_changed
                                                           : std::string{};
    return changed.empty() ? std::string{one.word} : fmt::format("{}, {}", one.word, changed);
}

void draw_choice_for_all(const Panel& panel, const UnitePart& part) {
    const Look& look = panel.look;
    text_in(look.strong, look.colours.text,
            fmt::format("You both changed {}",
                        counted(static_cast<std::int64_t>(part.conflicts.size()), "thing")));
    for (const KeepWord& one : keep_words) {
        ImGui::SameLine(0.0F, one.keep == Keep::mine ? look.unit : 0.4F * look.unit);
        if (word_button(look, fmt::format("all {}", one.word).c_str()))
            panel.actions.push_back(DecideBetween{{}, one.keep});
    }
}

void draw_conflict(const Panel& panel, const UnitePart& part, const MergeConflict& conflict, float right) {
    const Look& look = panel.look;
    ImGui::PushID(conflict.id.c_str());
    wrapped_text(conflict.what, look.colours.text);
    for (const ConflictingField& field : conflict.fields)
        wrapped_text(fmt::format("{}: mine {}, theirs {}", read_out(field.field), read_out(field.mine),
                                 read_out(field.theirs)),
                     look.colours.quiet);
    const auto decided = part.decided.find(conflict.id);
    for (const KeepWord& one : keep_words) {
        const std::string words = words_of(one, conflict);
        if (one.keep != Keep::mine) wrap_chip(look, "", words, right);
        if (chip(look, one.word, "", words, decided != part.decided.end() && decided->second == one.keep,
                 false))
            panel.actions.push_back(DecideBetween{conflict.id, one.keep});
    }
    ImGui::Dummy({1.0F, 0.5F * look.unit});
    ImGui::PopID();
}

/// Over `foot_px` for what stands below.
void draw_conflicts(const Panel& panel, const UnitePart& part, float foot_px) {
    draw_choice_for_all(panel, part);
    if (ImGui::BeginChild("both changed", {0.0F, ImGui::GetContentRegionAvail().y - foot_px})) {
        const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
        for (const MergeConflict& conflict : part.conflicts)
            draw_conflict(panel, part, conflict, right);
    }
    ImGui::EndChild();
}

void draw_made(const Panel& panel, const UnitePart& part) {
    const Look& look = panel.look;
    const MergeReport& made = *part.made;
    wrapped_text(fmt::format("{} has {}; from {}: {} brought, {} changed, {} removed; {} decided.",
                             part.made_at.filename().string(), counted(made.shots, "shot"),
                             part.theirs.filename().string(), counted(made.brought, "record"), made.changed,
                             made.removed, counted(made.decided, "conflict")),
                 look.colours.text);
    if (word_button(look, "Open it", true)) panel.actions.push_back(OpenOneSeason{});
    ImGui::Spacing();
    if (ImGui::BeginChild("told"))
        for (const std::string& line : made.told)
            wrapped_text(line, look.colours.quiet);
    ImGui::EndChild();
}

void draw_asking(const Panel& panel, UnitePart& part) {
    const Look& look = panel.look;
    quiet_text(look, "The one season goes to");
    ImGui::SetNextItemWidth(-1.0F);
    ImGui::InputText("##into", &part.into);
    if (!part.trouble.empty()) wrapped_text(part.trouble, look.colours.trouble);
    ImGui::Spacing();
    const float foot = 3.0F * look.unit;
    if (!part.conflicts.empty()) draw_conflicts(panel, part, foot);
    if (part.work) {
        quiet_text(look, part.work->share() > 0.0 ? fmt::format("works figures out again, {:.0f} %",
                                                                std::floor(100.0 * part.work->share()))
                                                  : std::string{"lays the two beside each other ..."});
    } else if (!all_decided(part)) {
        quiet_text(look, "Say of each whose stays; nothing is written before.");
    } else if (word_button(look, "Make one season of the two", true)) {
        panel.actions.push_back(MakeOneSeason{});
    }
}

} // namespace

void draw_unite_page(const Panel& panel, UnitePart& part) {
    const Look& look = panel.look;
    const bool is_short = part.conflicts.empty() && (!part.made || part.made->told.empty());
    begin_sheet(look, "unite page", std::min(52.0F * look.unit, panel.place.width),
                std::min(is_short ? 13.0F * look.unit : 34.0F * look.unit, panel.place.height));
    draw_page_heading(look, "Another coach's season");
    wrapped_text(fmt::format("{} and the open season become a third; neither of the two is written to.",
                             part.theirs.filename().string()),
                 look.colours.quiet);
    ImGui::Spacing();
    if (part.made) {
        draw_made(panel, part);
    } else {
        draw_asking(panel, part);
    }
    ImGui::End();
}

} // namespace ropeline
