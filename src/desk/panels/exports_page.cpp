#include "desk/panels/exports_page.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

std::string progress_words(const Export& work) {
    if (work.stopping()) return "stopping ...";
    const int left = static_cast<int>(std::ceil(work.seconds_left()));
    if (work.share() <= 0.0) return "begins ...";
    return fmt::format("{:.0f} %, {}:{:02} left", std::floor(100.0 * work.share()), left / 60, left % 60);
}

void draw_path(const char* id, std::string& path) {
    ImGui::SetNextItemWidth(-1.0F);
    ImGui::InputText(id, &path);
}

void draw_shots(const Look& look, ExportPart& part, float right) {
    if (part.offered.empty())
        return wrapped_text("No shots yet: log one, or choose another list.", look.colours.quiet);
    for (std::size_t index = 0; index < part.offered.size(); ++index) {
        if (index > 0) wrap_chip(look, "", part.offered[index].words, right);
        ImGui::PushID(static_cast<int>(index));
        const std::string words = shortened(look.body, part.offered[index].words, 30.0F * look.unit);
        if (chip(look, "shots", "", words, part.chosen == index, false)) part.chosen = index;
        ImGui::PopID();
    }
}

void draw_reel_switches(const Look& look, ExportPart& part, float right) {
    const auto turn = [&](const char* word, bool& on, bool first = false) {
        if (!first) wrap_chip(look, "", word, right);
        if (chip(look, word, "", word, on, false)) on = !on;
    };
    turn("half speed after the freeze", part.half_speed, true);
    turn("rink while it runs", part.rink);
    turn("two shots beside each other", part.beside);
    turn("sound", part.sound);
    turn("coach's notes", part.notes);
}

bool make_button(const Panel& panel, const ExportPart& part, const char* words, bool possible) {
    if (part.work || !possible) {
        quiet_text(panel.look, part.work ? "one at a time" : "");
        return false;
    }
    return word_button(panel.look, words, true);
}

std::string file_name(const std::filesystem::path& path, const Look& look) {
    return shortened(look.body, path.filename().string(), 20.0F * look.unit);
}

void draw_reel(const Panel& panel, ExportPart& part, float right) {
    const Look& look = panel.look;
    text_in(look.strong, look.colours.text, "Reel");
    ImGui::SameLine(0.0F, look.unit);
    quiet_text(look,
               "run-up, a freeze at each moment with the picture drawn on, then on; MP4 and its captions");
    draw_reel_switches(look, part, right);
    draw_path("##reel", part.reel_path);
    if (make_button(panel, part, "Make the reel", !part.offered.empty()))
        panel.actions.push_back(MakeExport{ExportKind::reel});
    if (!part.made_reel || part.work) return;
    ImGui::SameLine(0.0F, look.unit);
    if (word_button(look, "Record a voice")) panel.actions.push_back(RecordVoice{});
    ImGui::SameLine(0.0F, 0.6F * look.unit);
    quiet_text(look, "over " + file_name(part.made_reel->to, look));
}

void draw_still(const Panel& panel, ExportPart& part) {
    const Look& look = panel.look;
    text_in(look.strong, look.colours.text, "Still of this moment");
    if (part.still_moment.empty())
        return wrapped_text(
            "Open a shot in Log or Study first: its moment in hand is what the picture shows.",
            look.colours.quiet);
    ImGui::SameLine(0.0F, look.unit);
    for (const char* ending : {".png", ".svg"}) {
        std::filesystem::path path = part.still_path;
        if (ending[1] == 's') ImGui::SameLine(0.0F, 0.3F * look.unit);
        if (chip(look, ending, "", ending[1] == 's' ? "SVG" : "PNG", path.extension() == ending, false))
            part.still_path = path.replace_extension(ending).string();
    }
    draw_path("##still", part.still_path);
    if (make_button(panel, part, "Make the still", true))
        panel.actions.push_back(MakeExport{ExportKind::still});
}

void draw_handout(const Panel& panel, const LogState& log, ExportPart& part, float right) {
    const Look& look = panel.look;
    text_in(look.strong, look.colours.text, "Handout");
    ImGui::SameLine(0.0F, look.unit);
    quiet_text(look, "a folder with one page and its clips, for one goalie's phone or laptop");
    bool first = true;
    for (const Goalie& goalie : log.goalies) {
        const std::string name = shortened(look.body, goalie.name, 20.0F * look.unit);
        if (!first) wrap_chip(look, "", name, right);
        first = false;
        ImGui::PushID(goalie.id.c_str());
        if (chip(look, "goalie", "", name, goalie.id == part.goalie_id, false))
            panel.actions.push_back(HandoutFor{goalie.id});
        ImGui::PopID();
    }
    constexpr const char* notes = "coach's notes: they may name others";
    if (!first) wrap_chip(look, "", notes, right);
    if (chip(look, "notes", "", notes, part.handout_notes, false)) part.handout_notes = !part.handout_notes;
    draw_path("##handout", part.handout_path);
    if (make_button(panel, part, "Make the handout", !part.offered.empty() && !part.goalie_id.empty()))
        panel.actions.push_back(MakeExport{ExportKind::handout});
}

void draw_work(const Panel& panel, const ExportPart& part) {
    const Look& look = panel.look;
    if (part.work) {
        ImGui::PushStyleColor(ImGuiCol_PlotHistogram, look.colours.rope);
        ImGui::ProgressBar(static_cast<float>(part.work->share()), {16.0F * look.unit, 1.4F * look.unit}, "");
        ImGui::PopStyleColor();
        ImGui::SameLine(0.0F, 0.6F * look.unit);
        quiet_text(look, progress_words(*part.work));
        ImGui::SameLine(0.0F, 0.6F * look.unit);
        if (word_button(look, "Stop")) panel.actions.push_back(StopExport{});
    } else if (!part.said.empty()) {
        wrapped_text(part.said, part.trouble ? look.colours.trouble : look.colours.text);
    }
}

/// As large as the page has room for it, above `foot_px` for what stands below.
void draw_running(const VoiceOver& voice, float foot_px) {
    const ImVec2 from = ImGui::GetCursorScreenPos();
    const ImVec2 room{ImGui::GetContentRegionAvail().x, ImGui::GetContentRegionAvail().y - foot_px};
    if (voice.on_screen && voice.texture.filled()) {
        const float scale = std::min(room.x / static_cast<float>(voice.texture.width_px()),
                                     room.y / static_cast<float>(voice.texture.height_px()));
        const ImVec2 size{scale * static_cast<float>(voice.texture.width_px()),
                          scale * static_cast<float>(voice.texture.height_px())};
        ImGui::SetCursorScreenPos({from.x + 0.5F * (room.x - size.x), from.y});
        ImGui::Image(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(voice.texture.id())), size);
    }
    ImGui::SetCursorScreenPos({from.x, from.y + room.y});
}

/// In decibels, as an ear hears: silence at its left end, sixty below the loudest that can be kept.
void draw_level(const Look& look, float level) {
    const float share = std::clamp(1.0F + 20.0F * std::log10(std::max(level, 1e-4F)) / 60.0F, 0.0F, 1.0F);
    constexpr float too_loud = 0.97F, too_quiet = 0.02F;
    ImGui::PushStyleColor(ImGuiCol_PlotHistogram,
                          level >= too_loud ? look.colours.trouble : look.colours.rope);
    ImGui::ProgressBar(share, {14.0F * look.unit, 1.4F * look.unit}, "");
    ImGui::PopStyleColor();
    ImGui::SameLine(0.0F, 0.6F * look.unit);
    quiet_text(look, level >= too_loud    ? "too loud: speak from further away"
                     : level <= too_quiet ? "nothing is heard"
                                          : "your voice");
}

void draw_recording(const Panel& panel, const ExportPart& part) {
    const Look& look = panel.look;
    const VoiceOver& voice = *part.voice;
    draw_page_heading(look, "Your voice over " + file_name(part.made_reel->to, look),
                      "[put_down] throws it away");
    if (!part.said.empty()) wrapped_text(part.said, part.trouble ? look.colours.trouble : look.colours.text);
    draw_running(voice, 4.6F * look.unit);
    if (!voice.take) return quiet_text(look, "Opening the reel ...");
    draw_level(look, voice.take->level());
    const int now = static_cast<int>(voice.take->seconds()), all = static_cast<int>(voice.length_s);
    if (word_button(look, "Keep it", true)) panel.actions.push_back(KeepVoice{});
    ImGui::SameLine(0.0F, look.unit);
    if (word_button(look, "Throw it away")) panel.actions.push_back(DropVoice{});
    ImGui::SameLine(0.0F, look.unit);
    quiet_text(look, fmt::format("{}:{:02} of {}:{:02}", now / 60, now % 60, all / 60, all % 60));
}

} // namespace

void draw_exports_page(const Panel& panel, const LogState& log, ExportPart& part) {
    const Look& look = panel.look;
    begin_sheet(look, "exports", std::min(54.0F * look.unit, panel.place.width),
                std::min(33.0F * look.unit, panel.place.height));
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    if (part.voice) {
        draw_recording(panel, part);
        return ImGui::End();
    }
    draw_page_heading(look, "Reel, still, handout");
    wrapped_text(
        "Film of minors: only with their parents' consent, only for those it is about, never in public.",
        look.colours.quiet);
    draw_work(panel, part);
    ImGui::Spacing();
    quiet_text(look, "Which shots");
    draw_shots(look, part, right);
    ImGui::Spacing();
    draw_reel(panel, part, right);
    ImGui::Spacing();
    draw_handout(panel, log, part, right);
    ImGui::Spacing();
    draw_still(panel, part);
    ImGui::End();
}

void draw_export_button(const Panel& panel, const ExportPart& part) {
    const Look& look = panel.look;
    if (word_button(look, "Reel, still, handout")) panel.actions.push_back(Press{Command::exports});
    ImGui::SameLine(0.0F, 0.5F * look.unit);
    quiet_text(look, part.work ? progress_words(*part.work) : shown_chord(chord_of(Command::exports)));
}

} // namespace ropeline
