// Reel, still and handout made from the desk: on a thread, whole or not at all.
#include "desk/drawn_desk.h"
#include "desk/on_film.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <thread>

using namespace ropeline;
using namespace ropeline::test;

namespace {

void finish(const Export& work) {
    while (!work.finished())
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
}

std::string text_of(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

} // namespace

TEST_CASE("reel, still and handout are made on a thread, each told in a line; one that is there is never "
          "written over") {
    const OnFilm at;
    {
        const Export reel{at.wish(ExportKind::reel, "a reel.mp4")};
        finish(reel);
        CHECK_FALSE(reel.trouble());
        CHECK(reel.words() == "The reel of 2 shots is " + (at.folder.path / "a reel.mp4").string() + ".");
        CHECK(reel.share() == doctest::Approx(1.0));
    }
    CHECK(std::filesystem::file_size(at.folder.path / "a reel.mp4") > 10000);
    CHECK(std::filesystem::exists(at.folder.path / "a reel.vtt"));
    for (const char* name : {"still.png", "still.svg"}) {
        const Export still{at.wish(ExportKind::still, name)};
        finish(still);
        CHECK(still.words() == "The still is " + (at.folder.path / name).string() + ".");
    }
    CHECK(text_of(at.folder.path / "still.png").substr(1, 3) == "PNG");
    CHECK(text_of(at.folder.path / "still.svg").find("<svg") != std::string::npos);
    {
        const Export handout{at.wish(ExportKind::handout, "handout")};
        finish(handout);
        CHECK(handout.words() == "The handout of 2 shots is " + (at.folder.path / "handout").string() + ".");
    }
    CHECK(std::filesystem::exists(at.folder.path / "handout" / "index.html"));
    const auto files = at.files();
    const std::string before = text_of(at.folder.path / "still.png");
    const Export again{at.wish(ExportKind::still, "still.png")};
    finish(again);
    CHECK(again.trouble());
    CHECK(again.words() == "still.png is there already: type another name.");
    CHECK(text_of(at.folder.path / "still.png") == before);
    CHECK(at.files() == files);
}

TEST_CASE("a still goes to the clipboard as a picture where the system can, and says so") {
    const OnFilm at;
    const auto programs = at.folder.path / "programs";
    std::filesystem::create_directories(programs);
    std::ofstream(programs / "xclip") << "#!/bin/sh\necho \"$@\" >'" << at.folder.path.string()
                                      << "/asked'\ncat >'" << at.folder.path.string() << "/pasted.png'\n";
    std::filesystem::permissions(programs / "xclip", std::filesystem::perms::owner_all);
    const std::string path = std::getenv("PATH");
    setenv("PATH", (programs.string() + ":" + path).c_str(), 1);
    setenv("DISPLAY", ":0", 1);
    unsetenv("WAYLAND_DISPLAY");
    const Export still{at.wish(ExportKind::still, "still.png")};
    finish(still);
    CHECK(still.on_clipboard());
    CHECK(text_of(at.folder.path / "asked") == "-selection clipboard -target image/png\n");
    CHECK(text_of(at.folder.path / "pasted.png") == text_of(at.folder.path / "still.png"));
    const Export drawing{at.wish(ExportKind::still, "still.svg")};
    finish(drawing);
    CHECK_FALSE(drawing.on_clipboard());
    setenv("PATH", path.c_str(), 1);
    unsetenv("DISPLAY");
    const Export alone{at.wish(ExportKind::still, "alone.png")};
    finish(alone);
    CHECK_FALSE(alone.on_clipboard());
    CHECK_FALSE(alone.trouble());
}

TEST_CASE("a stopped reel and a stopped handout leave nothing behind") {
    const OnFilm at;
    const auto files = at.files();
    for (const ExportKind kind : {ExportKind::reel, ExportKind::handout}) {
        Export work{at.wish(kind, kind == ExportKind::reel ? "a.mp4" : "a")};
        while (work.share() <= 0.0 && !work.finished())
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        work.stop();
        finish(work);
        CHECK_FALSE(work.trouble());
        CHECK(work.words() == "Stopped; nothing was written.");
        CHECK(at.files() == files);
    }
    { const Export closed{at.wish(ExportKind::reel, "a.mp4")}; } // the desk is closed meanwhile
    CHECK(at.files() == files);
}

TEST_CASE("what cannot be made is said in one line") {
    const OnFilm at;
    const auto why = [](const ExportWish& wish) {
        const Export work{wish};
        finish(work);
        CHECK(work.trouble());
        return work.words();
    };
    CHECK(why(at.wish(ExportKind::reel, "a.avi")) == "a.avi: a reel is an MP4 file, name it something.mp4.");
    CHECK(why(at.wish(ExportKind::still, "a.gif")) == "a.gif: a still is a .png or an .svg file.");
    ExportWish nothing = at.wish(ExportKind::reel, "a.mp4");
    nothing.shots.clear();
    CHECK(why(nothing) == "There is no shot to show: choose some first.");
    ExportWish somebody = at.wish(ExportKind::handout, "a");
    somebody.goalie_id = new_id();
    CHECK(why(somebody) == "None of these shots is this goalie's: choose others, or another goalie.");
    std::filesystem::remove(at.folder.path / "one.mp4");
    const std::string away = why(at.wish(ExportKind::reel, "a.mp4"));
    CHECK(away.find("None of these shots has its film: ") == 0);
    CHECK(away.find('\n') == std::string::npos);
}

TEST_CASE("the page offers the open shot and the lists of the sides, and names that nothing has yet") {
    DrawnDesk desk;
    desk.resize(1280.0F, 720.0F, 16.0F, true);
    open_made_season(desk);
    App& app = desk.app;
    apply(app, PickShot{0});
    run_command(app, Command::exports);
    REQUIRE(app.exports.open);
    REQUIRE(app.exports.offered.size() == 2);
    CHECK(app.exports.offered[0].words == "the open shot");
    CHECK(app.exports.offered[1].words == "3 shots listed in Log");
    CHECK_FALSE(app.exports.still_moment.empty());
    CHECK(std::filesystem::path(app.exports.reel_path).extension() == ".mp4");
    CHECK(std::filesystem::path(app.exports.reel_path).parent_path() == desk.folder.path);
    std::ofstream(app.exports.reel_path) << "there";
    const std::string taken = app.exports.reel_path;
    run_command(app, Command::exports);
    CHECK_FALSE(app.exports.open);
    app.side = Side::study;
    app.settings.answers_as = "Ilse Varga";
    desk.draw();
    run_command(app, Command::exports);
    CHECK(app.exports.reel_path != taken);
    CHECK(app.exports.offered.at(app.exports.chosen).words == "3 shots listed in Study");
    // The handout's name is that of whom it is for, unless another one was typed.
    const Id first_goalie = app.exports.goalie_id;
    apply(app, NewGoalie{"Marta Berg", "Harbour Pike"});
    const Id other_goalie = app.log.state().goalies.back().id == first_goalie
                                ? app.log.state().goalies.front().id
                                : app.log.state().goalies.back().id;
    app.actions.push_back(HandoutFor{other_goalie});
    update(app);
    CHECK(app.exports.handout_path.find("handout Marta Berg") != std::string::npos);
    app.exports.handout_path = "mine";
    app.actions.push_back(HandoutFor{first_goalie});
    update(app);
    CHECK(app.exports.handout_path == "mine");
    CHECK_FALSE(app.exports.handout_notes); // they may name others
    app.actions.push_back(MakeExport{ExportKind::reel});
    for (int turn = 0; turn < 1000 && (turn < 2 || app.exports.work); ++turn) {
        desk.draw();
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    CHECK(app.exports.trouble);
    CHECK(app.exports.said.find("None of these shots has its film: ") == 0);
    CHECK(app.log.state().notice.text == app.exports.said);
    // An empty list is not offered, and no longer one stands chosen in its place.
    run_command(app, Command::exports);
    app.study.queue.decisions.clear();
    run_command(app, Command::exports);
    REQUIRE(app.exports.offered.size() == 3);
    CHECK(app.exports.offered.back().words == "3 shots of the season");
    CHECK(app.exports.offered.at(app.exports.chosen).words == "the open shot");
}
