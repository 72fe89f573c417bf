// The pointer on the Season side: a mark tells its shot and opens it, a drag over the plan asks for the shots from there.
#include "desk/commands.h"
#include "desk/drawn_desk.h"
#include "sheet/season_charts.h"

#include <doctest/doctest.h>
#include <imgui_internal.h>

using namespace ropeline;
using test::DrawnDesk;

namespace {

/// Thirty shots at three places on the ice, a third each.
constexpr IcePoint places[] = {{-4.0, 6.0}, {0.5, 12.0}, {5.0, 9.0}};

void put_shots(SeasonFile& file) {
    const Id goalie = file.goalies().front().id, game = file.games().front().id;
    for (int i = 0; i < 30; ++i) {
        Shot shot;
        shot.game_id = game;
        shot.goalie_id = goalie;
        shot.frame = 10 * i;
        shot.came = NextAction::shot;
        shot.outcome = i % 5 == 0 ? Outcome::goal : Outcome::save_held;
        file.put(shot);
        Moment moment;
        moment.shot_id = shot.id;
        moment.frame = shot.frame;
        const IcePoint puck = places[i % 3] + IcePoint{0.08 * (i / 3), 0.0};
        const auto mark = [](MarkKind kind, IcePoint at) {
            Mark made;
            made.kind = kind;
            made.ice = at;
            return made;
        };
        moment.marks = {mark(MarkKind::goalie, {0.1, 1.2}), mark(MarkKind::puck, puck)};
        Reading reading;
        reading.depth_m = 1.2;
        reading.crease_edge_m = 1.8;
        reading.clearance_m = -0.6;
        reading.band = Band::conservative;
        moment.reading = reading;
        file.put(moment);
    }
}

struct PointedSeason {
    DrawnDesk desk;
    PointedSeason() {
        const auto path = desk.folder.path / "one.season";
        { test::begun(path); }
        {
            SeasonFile file = SeasonFile::open(path);
            put_shots(file);
        }
        desk.resize(1440.0F, 900.0F, 16.0F, true);
        open_season(desk.app, path);
        desk.app.side = Side::season;
        desk.draw();
        desk.draw();
    }
    const SeasonNumbers& numbers() const { return *desk.app.season.numbers; }
    static ImGuiWindow* page() { return ImGui::FindWindowByName("season charts"); }

    void point(ImVec2 place) {
        ImGui::GetIO().MousePos = place;
        desk.turn();
        desk.turn();
    }
    void press(bool down) {
        ImGui::GetIO().MouseDown[0] = down;
        desk.turn();
        desk.turn();
    }
    static bool tells() {
        const ImGuiWindow* tip = ImGui::FindWindowByName("##Tooltip_00");
        return tip && tip->Active;
    }
    bool is_plan(ImVec2 at) {
        point(at);
        const ImGuiID id = ImHashStr("chart", 0, ImHashStr("shots_on_plan", 0, page()->ID));
        return ImGui::GetCurrentContext()->HoveredIdPreviousFrame == id;
    }
    /// How far the plan goes from a place on it, that way.
    float edge(ImVec2 from, float dx, float dy) {
        float inside = 0.0F, outside = 1500.0F;
        while (outside - inside > 0.3F) {
            const float middle = 0.5F * (inside + outside);
            (is_plan({from.x + dx * middle, from.y + dy * middle}) ? inside : outside) = middle;
        }
        return inside;
    }
    /// Scrolls until the plan's top is in sight, and finds where on the screen it lies.
    void find_plan() {
        const float page_top = page()->Pos.y;
        for (float scroll = 0.0F; scroll <= page()->ScrollMax.y + 100.0F; scroll += 100.0F) {
            ImGui::SetScrollY(page(), scroll);
            desk.draw();
            for (const float x : {360.0F, 1080.0F}) {
                const ImVec2 probe{x, page_top + 330.0F};
                if (!is_plan(probe)) continue;
                const float up = edge(probe, 0.0F, -1.0F);
                if (probe.y - up < page_top + 20.0F) continue; // its top is out of sight
                const float left = edge(probe, -1.0F, 0.0F), right = edge(probe, 1.0F, 0.0F);
                plan_at = {probe.x - left, probe.y - up};
                width = left + right;
                return;
            }
        }
        FAIL("the plan is nowhere on the page");
    }
    ImVec2 screen(IcePoint place) const {
        const ScenePoint p = place_on_plan(place, desk.app.log.state().season);
        return {plan_at.x + width * static_cast<float>(p.x), plan_at.y + width * static_cast<float>(p.y)};
    }

    ImVec2 plan_at{};
    float width = 0.0F;
};

} // namespace

TEST_CASE("pointing at a mark on the plan tells the shot, a click opens it, beside a mark nothing happens") {
    PointedSeason season;
    season.find_plan();
    const ImVec2 shot = season.screen(places[2] + IcePoint{0.08 * 9, 0.0}); // the last one, drawn on top
    season.point(shot);
    CHECK(PointedSeason::tells());
    season.point({shot.x, shot.y + 80.0F});
    CHECK_FALSE(PointedSeason::tells());
    season.press(true);
    season.press(false);
    CHECK(season.desk.app.side == Side::season);
    season.point(shot);
    season.press(true);
    season.press(false);
    CHECK(season.desk.app.side == Side::log);
    const ShotEntry* opened = chosen_shot(season.desk.app.log.state());
    REQUIRE(opened);
    CHECK(opened->shot.frame == 290);
}

TEST_CASE("a drag over the plan asks for the shots from there, and all else of the filter stays") {
    PointedSeason season;
    season.desk.app.actions.push_back(FilterFacts{{.came = NextAction::shot}});
    season.desk.draw();
    season.find_plan();
    season.point(season.screen({3.8, 10.5}));
    season.press(true);
    season.point(season.screen({7.0, 7.5}));
    CHECK_FALSE(PointedSeason::tells());
    season.press(false);
    season.desk.draw();
    CHECK(season.desk.app.side == Side::season);
    const FactFilter& only = season.desk.app.log.state().list.only;
    REQUIRE(only.area);
    CHECK(only.area->low.x_m == doctest::Approx(3.8).epsilon(0.03));
    CHECK(only.area->high.y_m == doctest::Approx(10.5).epsilon(0.03));
    CHECK(only.came == NextAction::shot);
    CHECK(season.numbers().shots == 10);
}
