// Every page of the desk at every usual size of window and text: what is written can be read. The pages are drawn as in
// the window, without a graphics card; text is looked for in what would go to it.
#include "desk/commands.h"
#include "desk/drawn_desk.h"
#include "desk/panels/pieces.h"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <imgui.h>

#include <algorithm>
#include <functional>

using namespace ropeline;
using test::DrawnDesk;

using namespace ropeline::test;

namespace {

struct Page {
    const char* name;
    std::function<void(App&)> open;
};

void open_shot(App& app, std::size_t index) {
    apply(app, PickShot{index});
}

void study_as_somebody(App& app) {
    app.side = Side::study;
    app.settings.answers_as = "Ilse Varga";
    update(app);
}

void begin_studying(App& app) {
    study_as_somebody(app);
    app.study.filter.what = StudyWhat::all;
    update(app);
    begin_first(app);
}

/// Each page is opened from the desk as it stands when nothing is open.
const std::vector<Page>& pages() {
    static const std::vector<Page> all = {
        {"the film", [](App&) {}},
        {"the list, searched", [](App& app) { apply(app, FilterList{"nobody"}); }},
        {"a shot to be marked", [](App& app) { apply(app, NewShot{}, 400); }},
        {"a moment", [](App& app) { open_shot(app, 0); }},
        {"another moment", [](App& app) { open_shot(app, 1); }},
        {"a puck behind the net", [](App& app) { open_shot(app, 2); }},
        {"the crease under the pointer",
         [](App& app) {
             open_shot(app, 1);
             const ImVec2 desk = ImGui::GetIO().DisplaySize;
             const Rect plan = log_layout(desk.x, desk.y, app.look.unit, LogShape::moment).plan;
             ImGui::GetIO().MousePos = {plan.x + 0.2F * plan.width, plan.y + 0.2F * plan.height};
         }},
        {"the line with the most choices",
         [](App& app) {
             open_shot(app, 0);
             apply(app, Focus{CardField::outcome});
         }},
        {"what the body says",
         [](App& app) {
             open_shot(app, 0);
             apply(app, Focus{CardField::cues});
         }},
        {"the whole card",
         [](App& app) {
             open_shot(app, 0);
             app.pages.unfolded = true;
         }},
        {"the whole card, all the way down",
         [](App& app) {
             open_shot(app, 0);
             app.pages.unfolded = true;
             for (int detail = 0; detail < detail_count; ++detail)
                 apply(app, TurnAsk{std::string{fact_of(static_cast<Detail>(detail)).key}});
         }},
        {"a verdict overruled",
         [](App& app) {
             open_shot(app, 1);
             apply(app,
                   Overrule{Verdict::over_challenged,
                            "He had seen the pass on film before and still went out to the hash marks."});
         }},
        {"overruling",
         [](App& app) {
             open_shot(app, 1);
             app.pages.overrule.open = true;
         }},
        {"a place tried",
         [](App& app) {
             open_shot(app, 1);
             app.log.tried = IcePoint{0.0, 0.9};
         }},
        {"the rink being fitted", [](App& app) { apply(app, BeginFit{}, 500); }},
        {"the guide", [](App& app) { start_guide(app); }},
        {"the guide beside a moment",
         [](App& app) {
             start_guide(app);
             open_shot(app, 0);
         }},
        {"the list on the whole page", [](App& app) { app.list.whole_page = true; }},
        {"games and films", [](App& app) { app.pages.games = true; }},
        {"level of play", [](App& app) { app.pages.parameters = true; }},
        {"the question before a shot is moved",
         [](App& app) {
             open_shot(app, 0);
             ask_to_move(app, app.log.state().shots[0].shot.id, test::at(150));
         }},
        {"what can be done with an opponent",
         [](App& app) {
             open_shot(app, 0);
             app.log.menu = RightClicked{3, {}};
             app.log.menu_open = false;
         }},
        {"the start page", [](App& app) { show_start_page(app); }},
        {"the start page with wrong fields",
         [](App& app) {
             show_start_page(app);
             app.start.trouble =
                 "/media/coach/GAME FILM/a season with a long name.season: there is no such file.";
             app.start.form.film = "~/Videos/2026-11-27.mp4";
             app.start.field_trouble = {
                 "Name the season, as \"U16 2026-27\".",
                 "This is longer than 500 letters: write it shorter.",
                 "Who is in net? Others can be added later.",
                 "Both teams have the same name: write the opponent's.",
                 "This is longer than 500 letters: write it shorter.",
                 "The date is written as year-month-day: 2026-11-25.",
                 "There is no such file. Choose it, drop it here, or leave the field empty "
                 "for now.",
                 "There is a season of that name already: open it at the left, or write "
                 "another name here."};
         }},
        {"the chooser", [](App& app) { show_chooser(app, ChooserFor::film_or_list); }},
        {"the chooser with nothing to choose",
         [](App& app) {
             show_chooser(app, ChooserFor::new_season);
             app.chooser->chooser.trouble = "Write a name for the season's file.";
         }},
        {"another coach's season", [](App& app) { bring_in_season(app, "/media/coach/theirs.season"); }},
        {"what both coaches changed",
         [](App& app) {
             bring_in_season(app, "/media/coach/a season with quite a long name, autumn and winter.season");
             app.unite.conflicts = {{"5b1f",
                                     "shot of Ilse Varga, 2026-11-20, period 2, 12:34",
                                     {{"outcome", "save_held", "goal"},
                                      {"note", "late to the far post, third time in this game", "nothing"}},
                                     "2026-11-25 14:03 UTC by Anna",
                                     "2026-11-26 08:11 UTC by the goalie coach of the other club"}};
         }},
        {"one season of two",
         [](App& app) {
             bring_in_season(app, "/media/coach/theirs.season");
             app.unite.made_at = "/media/coach/mine with theirs.season";
             MergeReport& made = app.unite.made.emplace();
             made.told = {"the game Harbour Pike – Mill Town Otters is one now"};
             made.shots = 412, made.brought = 230, made.changed = 4;
         }},
        {"what we log", [](App& app) { app.pages.what_we_log = true; }},
        {"all keys", [](App& app) { app.pages.key_sheet = true; }},
        {"Season", [](App& app) { app.side = Side::season; }},
        {"Season, asked for little",
         [](App& app) {
             app.side = Side::season;
             apply(app,
                   FilterFacts{{.team = "Mill Town Otters", .goals = true, .area = IceArea{{0, 0}, {1, 1}}}});
         }},
        {"the goalies",
         [](App& app) {
             app.side = Side::season;
             app.season.view = SeasonView::goalies;
         }},
        {"two halves side by side",
         [](App& app) {
             app.side = Side::season;
             app.season.comparison.by = CompareBy::halves;
         }},
        {"the list of what Season asks for",
         [](App& app) {
             apply(app, FilterFacts{
                            {.goalie_id = app.log.state().goalies.front().id, .situation = Situation::rush}});
         }},
        {"Study, nobody answers yet",
         [](App& app) {
             app.settings.answers_as.clear();
             app.side = Side::study;
         }},
        {"Study", [](App& app) { study_as_somebody(app); }},
        {"Study, an empty list",
         [](App& app) {
             study_as_somebody(app);
             app.study.filter.what = StudyWhat::due;
             app.study.filter.goals = true;
         }},
        {"a decision to be called", [](App& app) { begin_studying(app); }},
        {"how sure the goalie is",
         [](App& app) {
             begin_studying(app);
             app.settings.ask_how_sure = true;
             answer_call(app, Read::shot);
         }},
        {"where to stand",
         [](App& app) {
             begin_studying(app);
             answer_call(app, Read::pass);
             const ImVec2 desk = ImGui::GetIO().DisplaySize;
             const Rect plan = study_layout(desk.x, desk.y, app.look.unit, false, false).plan;
             ImGui::GetIO().MousePos = {plan.x + 0.9F * plan.width, plan.y + 0.95F * plan.height};
         }},
        {"the answer",
         [](App& app) {
             begin_studying(app);
             answer_call(app, Read::pass);
             answer_place(app, {2.0, 3.0});
         }},
        {"the answer, the puck behind the net",
         [](App& app) {
             study_as_somebody(app);
             app.study.filter.what = StudyWhat::all;
             update(app);
             begin_round(app, app.log.state().shots[2].moments.front().id);
             answer_call(app, Read::pass);
             answer_place(app, {0.5, 1.0});
         }},
        {"how the sitting went", [](App& app) { study_as_somebody(app), show_sitting(app); }},
        {"reel, still and handout", [](App& app) { open_shot(app, 0), turn_exports(app); }},
        {"a still that could not be made",
         [](App& app) {
             turn_exports(app);
             app.exports.said = "None of these shots has its film: one.mp4 is not there.";
             app.exports.trouble = true;
         }},
    };
    return all;
}

void close_everything(App& app) {
    ImGui::GetIO().MousePos = {-1.0F, -1.0F};
    app.pages = {};
    app.chooser.reset();
    app.log.menu.reset();
    app.start.trouble.clear();
    app.start.field_trouble = {};
    app.start.form = {};
    app.list.whole_page = false;
    app.list.open.reset();
    app.log.tried.reset();
    app.guide.reset();
    app.side = Side::log;
    app.study = {};
    app.exports = {};
    app.unite = {};
    app.settings.ask_how_sure = false;
    app.season.view = SeasonView::charts;
    app.season.comparison = {};
    apply(app, FilterList{});
    apply(app, FilterFacts{});
    apply(app, PutDown{});
    apply(app, PutDown{});
}

struct Size {
    float width, height, text_px;
};
constexpr float largest = 200.0F; // held to what the window has room for
constexpr Size sizes[] = {{1280, 720, 16},  {1280, 720, largest},  {1440, 900, 16},  {1440, 900, largest},
                          {1920, 1080, 16}, {1920, 1080, largest}, {3840, 2160, 16}, {3840, 2160, largest}};

void check(const test::DrawnText& text, const char* page, const Size& size) {
    CHECK(text.glyphs > 50);
    for (const std::string& cut : text.cut)
        FAIL_CHECK(fmt::format("{} at {:.0f}x{:.0f}, text {:.0f}: {}", page, size.width, size.height,
                               size.text_px, cut));
}

} // namespace

TEST_CASE(
    "no text is cut on any page of the desk, from a small laptop to 4K, in the usual and the largest text") {
    DrawnDesk desk;
    bool first = true;
    for (const Size& size : sizes) {
        if (first) {
            desk.resize(size.width, size.height, size.text_px, true);
            check(desk.draw(), "the start page at the first run", size);
            open_made_season(desk);
            first = false;
        }
        desk.resize(size.width, size.height, size.text_px,
                    size.text_px != largest); // the large text in light
        for (const Page& page : pages()) {
            close_everything(desk.app);
            page.open(desk.app);
            const test::DrawnText text = desk.draw();
            check(text, page.name, size);
            const bool opened =
                std::string_view{page.name}.ends_with("moment") && text.tallest_in_headline_px > 0.0F;
            if (opened) CHECK(text.tallest_in_headline_px >= size.height / 28.0F);
        }
    }
}

TEST_CASE("the eye that looks for cut text sees it: over an edge, trimmed, below a window, on one another") {
    DrawnDesk desk;
    desk.resize(1280.0F, 720.0F, 16.0F, true);
    const auto drawn = [&](const std::function<void(ImDrawList*)>& draw) {
        ImGui::NewFrame();
        ImGui::SetNextWindowPos({100.0F, 100.0F});
        ImGui::SetNextWindowSize({200.0F, 100.0F});
        ImGui::Begin("box", nullptr, ImGuiWindowFlags_NoDecoration);
        draw(ImGui::GetWindowDrawList());
        ImGui::End();
        ImGui::Render();
        return test::drawn_text().cut;
    };
    const auto write = [&](ImDrawList* list, float x, float y) {
        draw_text(list, desk.app.look.body, {x, y}, IM_COL32_WHITE, "headline");
    };
    CHECK(drawn([&](ImDrawList* list) { write(list, 120.0F, 120.0F); }).empty());
    CHECK(drawn([&](ImDrawList* list) { write(list, 270.0F, 120.0F); }).size() > 0);
    CHECK(drawn([&](ImDrawList* list) { write(list, 120.0F, 192.0F); }).size() > 0);
    CHECK(drawn([&](ImDrawList* list) {
              write(list, 120.0F, 120.0F);
              write(list, 122.0F, 121.0F);
          }).size() > 0);
    for (int turn = 0; turn < 2; ++turn) // content is measured in one turn and known in the next
        if (const auto below = drawn([](ImDrawList*) { ImGui::Dummy({10.0F, 400.0F}); }); turn == 1)
            CHECK(below.size() == 1);
    CHECK(drawn([](ImDrawList*) { ImGui::Button("a label too long", {60.0F, 0.0F}); }).size() > 0);
}
