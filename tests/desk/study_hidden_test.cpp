// Before the call nothing on screen tells the answer: two seasons that differ in the answers alone are drawn alike, to the vertex.
#include "desk/drawn_desk.h"
#include "desk/state/window_title.h"
#include "desk/turned_round.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <set>
#include <span>

using namespace ropeline;
using namespace ropeline::test;

namespace {

/// All that goes to the graphics card.
std::string drawn_bytes() {
    std::string bytes;
    const ImDrawData& all = *ImGui::GetDrawData();
    for (int list = 0; list < all.CmdListsCount; ++list) {
        const ImDrawList& one = *all.CmdLists[list];
        bytes.append(reinterpret_cast<const char*>(one.VtxBuffer.Data), one.VtxBuffer.size_in_bytes());
        bytes.append(reinterpret_cast<const char*>(one.IdxBuffer.Data), one.IdxBuffer.size_in_bytes());
    }
    return bytes;
}

/// What is on screen at each step up to the call, with the cursor over one place after another; then the answer.
struct Seen {
    std::vector<std::string> before;
    std::string answer;
};

void look_around(DrawnDesk& desk, std::vector<std::string>& into) {
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImGui::GetIO().MousePos = {-1.0F, -1.0F};
    desk.draw();
    into.push_back(drawn_bytes());
    for (int across = 0; across < 8; ++across) {
        for (int down = 0; down < 6; ++down) {
            ImGui::GetIO().MousePos = {(static_cast<float>(across) + 0.5F) * size.x / 8.0F,
                                       (static_cast<float>(down) + 0.5F) * size.y / 6.0F};
            desk.draw();
            into.push_back(drawn_bytes());
        }
    }
    ImGui::GetIO().MousePos = {-1.0F, -1.0F};
}

/// What lies over the call when it is opened in the middle of it.
void open_pages(DrawnDesk& desk, std::vector<std::string>& into) {
    App& app = desk.app;
    for (const Command page : {Command::exports, Command::games, Command::parameters, Command::key_sheet}) {
        run_command(app, page);
        app.exports.reel_path = app.exports.still_path = app.exports.handout_path = "beside the season";
        desk.draw();
        into.push_back(drawn_bytes());
        run_command(app, page);
    }
    desk.draw();
}

Seen study(DrawnDesk& desk) {
    App& app = desk.app;
    Seen seen;
    app.settings.answers_as = "Ilse Varga";
    app.side = Side::study;
    desk.draw();
    look_around(desk, seen.before);
    begin_first(app);
    REQUIRE(app.study.turn);
    seen.before.push_back(std::string(1001, ' ') + window_title(&app.log.state()));
    open_pages(desk, seen.before);
    look_around(desk, seen.before);
    answer_call(app, Read::shot);
    look_around(desk, seen.before);
    answer_place(app, {0.2, 1.2});
    REQUIRE(is_answered(app.study.turn));
    desk.draw();
    seen.answer = drawn_bytes();
    return seen;
}

} // namespace

TEST_CASE(
    "before the call no vertex and no letter tells two decisions apart that differ in the answer alone") {
    DrawnDesk desk;
    desk.resize(1280.0F, 720.0F, 16.0F, true);
    open_made_season(desk);
    const auto first = desk.app.log.book->file().path();
    const auto other = desk.folder.path / "other" / "one.season";
    std::filesystem::create_directories(other.parent_path());
    REQUIRE_FALSE(desk.app.log.book->wait_for_commit());
    desk.app.log.book.reset();
    std::filesystem::copy_file(first, other);
    turn_answers_round(other);

    open_season(desk.app, first);
    const Seen one = study(desk);
    desk.app.study = {};
    open_season(desk.app, other);
    const Seen two = study(desk);
    REQUIRE(one.before.size() == two.before.size());
    for (std::size_t index = 0; index < one.before.size(); ++index) {
        CAPTURE(index);
        CHECK(one.before[index].size() > 1000);
        CHECK((one.before[index] == two.before[index]));
    }
    CHECK((one.answer != two.answer)); // then it is told
    // The eye that compares sees what moves: the read-out that follows the cursor over the plan.
    const auto placing = std::span{one.before}.last(1 + 8 * 6);
    CHECK(std::set<std::string>(placing.begin(), placing.end()).size() > 6);
}
