#include "desk/panels/list_cells.h"

#include "desk/choices.h"
#include "desk/state/keys.h"
#include "sheet/text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

/// Room in front of the words for the mark.
float mark_room(const Look& look, ShotColumn column) {
    switch (column) {
    case ShotColumn::verdict:
    case ShotColumn::outcome:
        return 1.2F * look.unit;
    case ShotColumn::band:
        return 0.6F * look.unit;
    case ShotColumn::number:
    case ShotColumn::time:
    case ShotColumn::goalie:
    case ShotColumn::depth:
    case ShotColumn::read:
    case ShotColumn::situation:
    case ShotColumn::strength:
    case ShotColumn::first_detail:
    case ShotColumn::note:
        break;
    }
    return 0.0F;
}

template <class Enum, int count>
float widest(const Look& look) {
    float wide = 0.0F;
    for (int value = 0; value < count; ++value)
        wide = std::max(wide, text_size(look.body, label_of(static_cast<Enum>(value))).x);
    return wide;
}

void draw_mark(const Look& look, const ShotEntry& entry, ShotColumn column, ImVec2 at) {
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const ImVec2 middle{at.x + 0.5F * look.unit, at.y + 0.55F * look.unit};
    if (column == ShotColumn::outcome) {
        draw_outcome(draw, middle, 0.75F * look.unit, entry.shot.outcome, look.colours);
    } else if (column == ShotColumn::verdict) {
        if (const auto verdict = final_verdict(entry))
            draw_verdict(draw, middle, 0.85F * look.unit, *verdict, look.colours);
    } else if (column == ShotColumn::band) {
        const Moment* moment = main_moment(entry);
        if (!moment || !moment->reading) return;
        draw->AddRectFilled({at.x, at.y + 0.1F * look.unit}, {at.x + 0.3F * look.unit, at.y + look.unit},
                            look.colours.bands[static_cast<int>(moment->reading->band)]);
    }
}

/// Behind the words: a cross where he misread it, a crossed ring where the shot is on no film.
void draw_after(const Look& look, const LogState& log, const ShotEntry& entry, ShotColumn column, ImVec2 at) {
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const ImVec2 middle{at.x + 0.7F * look.unit, at.y + 0.55F * look.unit};
    const float r = 0.27F * look.unit;
    const float line = 0.12F * look.unit;
    if (column == ShotColumn::read && misread(entry.shot)) {
        const ImU32 colour = look.colours.trouble;
        draw->AddLine({middle.x - r, middle.y - r}, {middle.x + r, middle.y + r}, colour, line);
        draw->AddLine({middle.x - r, middle.y + r}, {middle.x + r, middle.y - r}, colour, line);
    } else if (column == ShotColumn::time && has_no_place(log, entry.shot)) {
        draw->AddCircle(middle, r, look.colours.rope, 0, line);
        draw->AddLine({middle.x - 1.4F * r, middle.y + 1.4F * r}, {middle.x + 1.4F * r, middle.y - 1.4F * r},
                      look.colours.rope, line);
    }
}

/// A figure that only wants the rink of its frame.
bool lacks_rink(const ShotEntry& entry, ShotColumn column) {
    const Moment* moment = main_moment(entry);
    return moment && waits_for_rink(*moment) &&
           (column == ShotColumn::verdict || column == ShotColumn::band || column == ShotColumn::depth);
}

struct CellWords {
    std::string text;
    ImU32 colour;
};

CellWords words_in_cell(const Look& look, const LogState& log, const ShotEntry& entry, ShotColumn column,
                        bool short_verdict) {
    const Palette& c = look.colours;
    std::string text = cell_words(log, entry, column, look.lengths);
    if (column == ShotColumn::outcome && text.empty()) return {"open", c.rope};
    if (column == ShotColumn::note) {
        const bool no_place = has_no_place(log, entry.shot);
        return {printable(text), no_place ? c.rope : c.quiet};
    }
    if (text.empty() && lacks_rink(entry, column)) return {"?", c.trouble};
    if (text.empty()) return {"–", c.faint};
    if (column == ShotColumn::verdict && short_verdict)
        return {std::string{letter_of(*final_verdict(entry))}, c.text};
    const bool quiet =
        column == ShotColumn::number || column == ShotColumn::time || column == ShotColumn::depth;
    return {printable(text), quiet ? c.quiet : c.text};
}

bool can_be_changed(ShotColumn column) {
    return column == ShotColumn::goalie || field_of(column).has_value();
}

void say_more(const Look& look, const ShotEntry& entry, ShotColumn column, const std::string& whole,
              bool cut) {
    if (column == ShotColumn::read && misread(entry.shot)) {
        ImGui::SetTooltip("Misread it: read %s, and a %s came.",
                          std::string{label_of(*entry.shot.read)}.c_str(),
                          std::string{label_of(*entry.shot.came)}.c_str());
    } else if (column == ShotColumn::verdict && final_verdict(entry)) {
        const Moment* moment = main_moment(entry);
        const auto& judgement = moment->judgement;
        const bool close = judgement && judgement->firmness && judgement->firmness->share < firm_from;
        ImGui::SetTooltip("%s%s", std::string{label_of(*final_verdict(entry))}.c_str(),
                          moment->overruled ? ", the reviewer's"
                          : close           ? ", a close call"
                                            : "");
    } else if (lacks_rink(entry, column)) {
        ImGui::SetTooltip("%s", with_keys("Not measured: the rink is not known in its frame. [fit_rink] fits "
                                          "it there.")
                                    .c_str());
    } else if (cut) {
        ImGui::PushStyleColor(ImGuiCol_Text, look.colours.text);
        ImGui::BeginTooltip();
        ImGui::PushTextWrapPos(32.0F * look.unit);
        ImGui::TextUnformatted(whole.c_str());
        ImGui::PopTextWrapPos();
        ImGui::EndTooltip();
        ImGui::PopStyleColor();
    }
}

} // namespace

std::array<float, shot_columns> list_widths(const Look& look, const LogState& log, float names_px) {
    std::array<float, shot_columns> wide{};
    const auto of = [&](ShotColumn column) -> float& { return wide.at(static_cast<std::size_t>(column)); };
    of(ShotColumn::number) = text_size(look.body, std::to_string(log.shots.size())).x;
    of(ShotColumn::time) = text_size(look.body, "P3 00:00").x;
    const bool unplaced =
        std::ranges::any_of(log.shots, [&](const ShotEntry& entry) { return has_no_place(log, entry.shot); });
    if (unplaced) of(ShotColumn::time) += 1.2F * look.unit;
    for (const Goalie& goalie : log.goalies)
        of(ShotColumn::goalie) = std::max(of(ShotColumn::goalie), text_size(look.body, goalie.name).x);
    of(ShotColumn::goalie) = std::clamp(of(ShotColumn::goalie), 4.0F * look.unit, names_px);
    of(ShotColumn::band) = widest<Band, 4>(look) + mark_room(look, ShotColumn::band);
    of(ShotColumn::depth) = text_size(look.body, "10.00 m").x;
    of(ShotColumn::read) = widest<Read, 2>(look) + 1.1F * look.unit;
    of(ShotColumn::verdict) = widest<Verdict, 8>(look) + mark_room(look, ShotColumn::verdict);
    of(ShotColumn::outcome) = widest<Outcome, 7>(look) + mark_room(look, ShotColumn::outcome);
    of(ShotColumn::situation) = widest<Situation, 6>(look);
    of(ShotColumn::strength) = widest<Strength, 3>(look);
    for (int index = 0; index < detail_count; ++index) {
        const auto detail = static_cast<Detail>(index);
        float& room = of(shot_column(detail));
        for (const DetailChoice& choice : fact_of(detail).choices)
            room = std::max(room, text_size(look.body, choice.label).x);
    }
    of(ShotColumn::note) = std::min(names_px, 12.0F * look.unit); // the last one takes what is left
    for (int column = 0; column < shot_columns; ++column) {
        const auto head = static_cast<ShotColumn>(column);
        // Room for the arrow whichever is sorted by, so that the widths stay.
        const float arrow = head == ShotColumn::number ? 0.5F * look.unit : 0.9F * look.unit;
        of(head) = std::ceil(std::max(of(head), text_size(look.body, label_of(head)).x + arrow)) + 1.0F;
    }
    return wide;
}

void draw_list_cell(const Panel& panel, const LogState& log, ListPart& list, const ListCell& cell) {
    const Look& look = panel.look;
    const auto [index, column, short_verdict, marks_alone] = cell;
    const Palette& c = look.colours;
    const ShotEntry& entry = log.shots[index];
    const bool chosen = entry.shot.id == log.selection.shot_id();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float wide = std::max(1.0F, ImGui::GetContentRegionAvail().x);
    const ImVec2 end{at.x + wide, at.y + look.unit};
    ImDrawList* draw = ImGui::GetWindowDrawList();
    CellWords words = words_in_cell(look, log, entry, column, short_verdict);
    if (marks_alone && column == ShotColumn::outcome) words.text.clear();
    const float left = at.x + mark_room(look, column);
    const std::string shown = shortened(look.body, words.text, end.x - left);
    const bool hovered = ImGui::IsMouseHoveringRect(at, end);
    if (can_be_changed(column)) {
        ImGui::PushID(static_cast<int>(column));
        if (ImGui::InvisibleButton("cell", {wide, look.unit})) {
            list.open = OpenCell{entry.shot.id, column};
            if (!chosen) panel.actions.push_back(PickShot{index});
            if (const auto field = field_of(column)) panel.actions.push_back(Focus{*field});
        }
        const bool under = ImGui::IsItemHovered();
        ImGui::PopID();
        const bool focused = chosen && field_of(column) == log.field && list.whole_page;
        const float grow = 0.15F * look.unit;
        const ImVec2 from{at.x - grow, at.y - 0.5F * grow};
        const ImVec2 to{end.x + grow, end.y + grow};
        if (under) draw->AddRectFilled(from, to, c.edge, 0.2F * look.unit);
        if (focused) draw->AddRect(from, to, c.rope, 0.2F * look.unit);
    } else {
        ImGui::Dummy({wide, look.unit});
    }
    if (list.open && list.open->shot_id == entry.shot.id && list.open->column == column)
        list.open->at = {at.x, at.y, wide, look.unit};
    draw_mark(look, entry, column, at);
    const float after = draw_text(draw, look.body, {left, at.y}, words.colour, shown).x;
    draw_after(look, log, entry, column, {left + after, at.y});
    if (hovered && ImGui::IsWindowHovered()) say_more(look, entry, column, words.text, shown != words.text);
}

void draw_open_choices(const Panel& panel, const LogState& log, ListPart& list) {
    if (!list.open) return;
    const Look& look = panel.look;
    OpenCell& open = *list.open;
    const ShotEntry* entry = chosen_shot(log);
    const bool just_opened = !open.opened;
    if (just_opened) ImGui::OpenPopup("choices");
    open.opened = true;
    if (!just_opened && (!entry || entry->shot.id != open.shot_id)) {
        list.open.reset();
        return;
    }
    const auto field = field_of(open.column);
    const auto choices = field ? choices_of(*field) : std::vector<std::string_view>{};
    const std::size_t count = field ? choices.size() : log.goalies.size();
    const float tall = static_cast<float>(std::min<std::size_t>(count, 14)) * 1.6F * look.unit + look.unit;
    const float desk = ImGui::GetIO().DisplaySize.y;
    if (open.at.width <= 0.0F) { // its column or its row is not shown: over the list then
        const ImVec2 window = ImGui::GetWindowPos();
        open.at = {window.x + 2.0F * look.unit, window.y + look.unit, 1.0F, look.unit};
    }
    const float below = open.at.y + open.at.height + 0.2F * look.unit;
    ImGui::SetNextWindowPos({open.at.x, below + tall > desk ? open.at.y - tall : below});
    ImGui::SetNextWindowSize({0.0F, tall});
    if (!ImGui::BeginPopup("choices")) {
        if (!just_opened) list.open.reset();
        return;
    }
    const auto line = [&](std::size_t number, const std::string& words, bool chosen) {
        ImGui::PushID(static_cast<int>(number));
        const std::string label = number < 9 ? fmt::format("{}   {}", number + 1, words) : "     " + words;
        const bool picked = ImGui::Selectable(label.c_str(), chosen, 0, {0.0F, 1.2F * look.unit});
        ImGui::PopID();
        return picked;
    };
    bool done = false;
    for (std::size_t number = 0; number < count; ++number) {
        const std::string words{field ? std::string{choices[number]} : printable(log.goalies[number].name)};
        const bool chosen = entry && (field ? chosen_in(entry->shot, *field) == static_cast<int>(number) + 1
                                            : entry->shot.goalie_id == log.goalies[number].id);
        if (!line(number, words, chosen)) continue;
        choose_in_open_cell(log, list, panel.actions, static_cast<int>(number) + 1);
        done = true;
    }
    if (done || !list.open) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
}

} // namespace ropeline
