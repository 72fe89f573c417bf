#include "desk/panels/what_we_log.h"

#include "desk/state/logged.h"
#include "rink/units.h"

#include <imgui_stdlib.h>

#include <algorithm>

namespace ropeline {

namespace {

void draw_asks(const Panel& panel, const LogState& log, float right) {
    bool first = true;
    for (const AskFact& fact : askable()) {
        if (!first) wrap_chip(panel.look, "", fact.label, right);
        first = false;
        ImGui::PushID(fact.key.data());
        if (chip(panel.look, "ask", "", fact.label, log.asks.contains(std::string{fact.key}), false))
            panel.actions.push_back(TurnAsk{std::string{fact.key}});
        ImGui::PopID();
    }
}

void draw_reviewer(const Panel& panel, const LogState& log, LoggingEntry& typed) {
    if (!typed.naming) typed.reviewer = log.season.reviewer;
    ImGui::SetNextItemWidth(16.0F * panel.look.unit);
    ImGui::InputTextWithHint("##reviewer", "kept with each new shot", &typed.reviewer);
    if (ImGui::IsItemActivated()) typed.naming = true;
    if (!ImGui::IsItemDeactivated()) return;
    if (ImGui::IsItemDeactivatedAfterEdit()) panel.actions.push_back(NameReviewer{typed.reviewer});
    typed.naming = false;
}

/// What a goalie's figures are typed in: metres, or feet where the coach reads feet.
double units_in_a_metre(const Look& look) {
    return look.lengths == LengthUnit::feet ? to_feet(1.0) : 1.0;
}

/// 0 stands for "not known" while it is typed.
void draw_goalie(const Panel& panel, const Goalie& goalie, LoggingEntry& typed) {
    const double units = units_in_a_metre(panel.look);
    const std::array kept = {goalie.height_m, goalie.blocking_width_m, goalie.lateral_speed_mps};
    std::array<double, 3> stored{};
    for (std::size_t index = 0; index < kept.size(); ++index)
        stored.at(index) = units * kept.at(index).value_or(0.0);
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(goalie.name.c_str());
    ImGui::PushID(goalie.id.c_str());
    for (std::size_t index = 0; index < stored.size(); ++index) {
        ImGui::TableNextColumn();
        double value = typed.goalie == goalie.id ? typed.figures.at(index) : stored.at(index);
        ImGui::PushID(static_cast<int>(index));
        ImGui::SetNextItemWidth(5.5F * panel.look.unit);
        if (ImGui::InputDouble("##value", &value, 0.0, 0.0, "%.2f")) {
            if (typed.goalie != goalie.id) typed.figures = stored;
            typed.goalie = goalie.id;
            typed.figures.at(index) = value;
        }
        ImGui::PopID();
        if (typed.goalie != goalie.id || !ImGui::IsItemDeactivatedAfterEdit()) continue;
        const auto known = [&](std::size_t index_of) -> std::optional<double> {
            const double figure = typed.figures.at(index_of);
            if (figure == 0.0) return std::nullopt;
            return figure == stored.at(index_of) ? kept.at(index_of) : figure / units;
        };
        panel.actions.push_back(MeasureGoalie{goalie.id, known(0), known(1), known(2)});
        typed.goalie.clear();
    }
    ImGui::PopID();
}

} // namespace

void draw_what_we_log(const Panel& panel, const LogState& log, LoggingEntry& typed) {
    const Look& look = panel.look;
    begin_sheet(look, "what_we_log", std::min(52.0F * look.unit, panel.place.width),
                std::min(36.0F * look.unit, panel.place.height));
    draw_page_heading(look, "What we log");
    wrapped_text(
        "The card always asks for the goalie's read, what came, situation, strength and outcome. What "
        "is switched on here it asks for besides, in this season; nothing of it has to be answered.",
        look.colours.quiet);
    ImGui::Spacing();
    draw_asks(panel, log, ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x);
    ImGui::Spacing();
    quiet_text(look, "who tags");
    draw_reviewer(panel, log, typed);
    ImGui::Spacing();
    quiet_text(look, "goalies of their own measure; 0: the season's figures");
    if (ImGui::BeginTable("goalies", 4, ImGuiTableFlags_ScrollY | ImGuiTableFlags_SizingFixedFit,
                          {0.0F, -2.2F * look.unit})) {
        const bool feet = look.lengths == LengthUnit::feet;
        ImGui::TableSetupColumn("goalie");
        ImGui::TableSetupColumn(feet ? "height, ft" : "height, m");
        ImGui::TableSetupColumn(feet ? "blocking width, ft" : "blocking width, m");
        ImGui::TableSetupColumn(feet ? "sideways, ft/s" : "sideways, m/s");
        ImGui::TableHeadersRow();
        for (const Goalie& goalie : log.goalies)
            draw_goalie(panel, goalie, typed);
        ImGui::EndTable();
    }
    if (const Notice& notice = log.notice; !notice.text.empty())
        text_in(look.body, notice.trouble ? look.colours.trouble : look.colours.quiet, notice.text);
    ImGui::End();
}

} // namespace ropeline
