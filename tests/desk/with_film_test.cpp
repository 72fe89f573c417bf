// The desk drawn over a film that is there: what needs its pictures on a graphics card.
#include "desk/drawn_desk.h"
#include "desk/hidden_window.h"
#include "desk/on_film.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <chrono>
#include <functional>
#include <thread>

using namespace ropeline;
using namespace ropeline::test;

namespace {

/// One turn of the window; what plays goes on playing.
void one_turn(DrawnDesk& desk) {
    update(desk.app);
    if (desk.app.log.book) desk.app.log.book->start_commit();
    pass_time(desk.app, 0.02);
    ImGui::NewFrame();
    draw_desk(desk.app, ImGui::GetIO().DisplaySize.x, ImGui::GetIO().DisplaySize.y);
    ImGui::Render();
}

bool turns_until(DrawnDesk& desk, const std::function<bool()>& holds) {
    for (int turn = 0; turn < 20000; ++turn) {
        if (holds()) return true;
        one_turn(desk);
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    return false;
}

constexpr float largest = 200.0F; // held to what the window has room for
constexpr struct {
    float width, height, text_px;
} sizes[] = {{1280, 720, 16},  {1280, 720, largest},  {1440, 900, 16},  {1440, 900, largest},
             {1920, 1080, 16}, {1920, 1080, largest}, {3840, 2160, 16}, {3840, 2160, largest}};

} // namespace

TEST_CASE(
    "with the film standing in Study no text is cut: at the call, at the place, and beside the answer") {
    const HiddenWindow window;
    DrawnDesk desk;
    const OnFilm at; // in the desk's own folder
    App& app = desk.app;
    desk.resize(1280.0F, 720.0F, 16.0F, true);
    open_season(app, at.season);
    app.settings.answers_as = "Ilse Varga";
    app.settings.ask_how_sure = true;
    app.side = Side::study;
    REQUIRE(turns_until(desk, [&] { return !app.study.queue.decisions.empty(); }));
    const auto look = [&](const char* what) {
        for (const auto& size : sizes) {
            desk.resize(size.width, size.height, size.text_px, size.text_px != largest);
            app.stage.player = held(app.stage.player);
            for (int turn = 0; turn < 3; ++turn)
                one_turn(desk);
            REQUIRE(app.stage.texture.filled());
            const DrawnText text = drawn_text();
            CHECK(text.glyphs > 50);
            for (const std::string& cut : text.cut)
                FAIL_CHECK(fmt::format("{} at {:.0f}x{:.0f}, text {:.0f}: {}", what, size.width, size.height,
                                       size.text_px, cut));
        }
    };
    begin_first(app);
    REQUIRE(turns_until(desk, [&] { return app.study.turn && app.study.turn->phase == StudyPhase::call; }));
    CHECK(app.study.turn->on_film);
    look("the call");
    answer_call(app, Read::shot);
    look("how sure");
    answer_sure(app, Sureness::sure);
    look("the place");
    answer_place(app, {2.0, 3.0});
    REQUIRE(is_answered(app.study.turn));
    look("the answer");
    app.stage.texture.release();
}

TEST_CASE("a voice is recorded while the reel runs, kept beside it and laid over it; thrown away, the reel "
          "is as it was") {
    const HiddenWindow window;
    DrawnDesk desk;
    const OnFilm at; // in the desk's own folder
    App& app = desk.app;
    desk.resize(1280.0F, 720.0F, 16.0F, true);
    open_season(app, at.season);
    REQUIRE(turns_until(desk, [&] { return app.stage.on_screen.has_value(); }));
    run_command(app, Command::exports);
    app.actions.push_back(RecordVoice{}); // over nothing
    one_turn(desk);
    CHECK_FALSE(app.exports.voice);
    ExportWish wish = at.wish(ExportKind::reel, "a reel.mp4");
    wish.shots.resize(1);
    start_export(app, wish);
    REQUIRE(turns_until(desk, [&] { return app.exports.made_reel.has_value(); }));
    const auto reel = at.folder.path / "a reel.mp4", voice = at.folder.path / "a reel voice.wav";
    const auto sound_streams = [&] {
        return output_of(
            fmt::format("ffprobe -v error -select_streams a -show_entries stream=codec_name -of csv=p=0 '{}'",
                        reel.string()));
    };
    CHECK(sound_streams().empty()); // of a film without sound
    const std::string made = app.exports.said;

    setenv("SDL_AUDIODRIVER", "no such driver", 1);
    app.actions.push_back(RecordVoice{});
    REQUIRE(turns_until(desk, [&] { return app.exports.trouble; }));
    CHECK(app.exports.said.starts_with("No microphone can be used ("));
    CHECK_FALSE(app.exports.voice);
    setenv("SDL_AUDIODRIVER", "disk", 1);
    setenv("SDL_DISKAUDIODELAY", "2", 1); // milliseconds for what would take 21
    const auto heard = at.folder.path / "heard.raw";
    output_of(fmt::format("ffmpeg -v error -f lavfi -i sine=440:d=60:sample_rate=48000 -ac 1 -f s16le '{}'",
                          heard.string()));
    setenv("SDL_DISKAUDIOFILEIN", heard.c_str(), 1);

    app.actions.push_back(RecordVoice{});
    const auto listening = [&] {
        return app.exports.voice && app.exports.voice->on_screen && app.exports.voice->take->seconds() > 0.2;
    };
    REQUIRE(turns_until(desk, listening));
    one_turn(desk);
    CHECK(drawn_text().cut.empty());
    run_command(app, Command::put_down);
    CHECK_FALSE(app.exports.voice);
    CHECK(app.exports.open); // the page is there still
    CHECK_FALSE(std::filesystem::exists(voice));

    app.actions.push_back(RecordVoice{});
    REQUIRE(turns_until(desk, listening));
    // At the reel's end it is kept by itself, and the reel made again with it.
    REQUIRE(turns_until(desk, [&] { return !app.exports.voice && !app.exports.work; }));
    CHECK_FALSE(app.exports.trouble);
    CHECK(app.exports.said == "The reel of 1 shot is " + reel.string() + ", with your voice over it.");
    CHECK(sound_streams() == "aac");
    const auto length_of = [](const std::filesystem::path& path) {
        return std::stod(output_of(
            fmt::format("ffprobe -v error -show_entries format=duration -of csv=p=0 '{}'", path.string())));
    };
    CHECK(std::abs(length_of(voice) - length_of(reel)) < 0.2);
    SDL_QuitSubSystem(SDL_INIT_AUDIO);
    for (const char* name : {"SDL_AUDIODRIVER", "SDL_DISKAUDIODELAY", "SDL_DISKAUDIOFILEIN"})
        unsetenv(name);
    app.stage.texture.release();
}

TEST_CASE("names in any script that an installed face has are drawn, not question marks") {
    DrawnDesk desk;
    desk.resize(1280.0F, 720.0F, 16.0F, true);
    CHECK(desk.app.look.body->FindGlyphNoFallback(0x4E2D) == nullptr);
    open_made_season(desk);
    apply(desk.app, NewGoalie{"\u4E2D\u6751 \u05D0\u05D1", "\u0645\u064A"});
    desk.turn();
    const std::string installed = output_of("fc-list ':charset=4e2d 6751' family | head -1");
    if (installed.empty()) {
        MESSAGE("skipped: no installed face has Chinese letters (Debian: fonts-noto-cjk)");
        return;
    }
    constexpr ImWchar chinese[] = {0x4E2D, 0x6751};
    put_look(desk.app.look, true, desk.app.look.type, desk.app.letters);
    for (ImFont* font : {desk.app.look.body, desk.app.look.strong, desk.app.look.heading})
        for (const ImWchar letter : chinese)
            CHECK(font->FindGlyphNoFallback(letter) != nullptr);
    const auto has = [](const std::string& letters) {
        return !output_of("fc-list ':charset=" + letters + ":scalable=true' family | head -1").empty();
    };
    if (has("5d0 5d1")) CHECK(desk.app.look.body->FindGlyphNoFallback(0x05D0) != nullptr);
    if (has("645 64a")) CHECK(desk.app.look.body->FindGlyphNoFallback(0x0645) != nullptr);
}
