// A season whose film is there.
#pragma once

#include "desk/exports.h"
#include "desk/made_book.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <cstdlib>
#include <filesystem>
#include <set>
#include <string>
#include <vector>

namespace ropeline::test {

/// A season beside a film of twelve seconds, with two shots on it and their moments marked.
struct OnFilm {
    Folder folder;
    std::filesystem::path season = folder.path / "one.season";
    std::vector<Id> shots;
    Id moment, goalie;
    OnFilm() {
        const auto film = folder.path / "one.mp4";
        REQUIRE(
            std::system(
                fmt::format("ffmpeg -v error -f lavfi -i testsrc=size=1280x720:rate=30:duration=12 -pix_fmt "
                            "yuv420p -preset ultrafast '{}'",
                            film.string())
                    .c_str()) == 0);
        LogBook book{new_season(season)};
        book.apply(NewGoalie{"Ilse Varga", "Harbour Pike"}, {});
        book.apply(NewGame{"2026-11-20", "Harbour Pike", "Mill Town Otters", RuleBookId::nhl}, {});
        FilmFacts facts;
        facts.path = film.string();
        facts.fingerprint = std::string{"f1"};
        facts.file_bytes = 1000;
        facts.shown_width_px = 1280;
        facts.shown_height_px = 720;
        book.apply(KeepFilm{facts, 360}, {});
        fit_still(book, 90);
        for (const std::int64_t frame : {100, 220}) {
            book.apply(NewShot{}, at(frame));
            for (const IcePoint place : {IcePoint{-0.2, 1.3}, IcePoint{0.3, 1.3}, IcePoint{3.0, 7.0}})
                book.apply(FilmClick{seen(place)}, at(frame));
            book.apply(TakeShot{}, at(frame));
        }
        for (const ShotEntry& entry : book.state().shots)
            shots.push_back(entry.shot.id);
        moment = book.state().shots.front().moments.front().id;
        goalie = book.state().goalie_id;
    }
    std::set<std::string> files() const {
        std::set<std::string> names;
        for (const auto& file : std::filesystem::directory_iterator(folder.path))
            names.insert(file.path().filename().string());
        return names;
    }
    ExportWish wish(ExportKind kind, const std::string& to) const {
        ExportWish one;
        one.kind = kind;
        one.season = season;
        one.to = folder.path / to;
        one.shots = shots;
        one.goalie_id = goalie;
        one.moment_id = moment;
        one.reel.width_px = 320;
        one.reel.height_px = 180;
        one.reel.preset = "ultrafast";
        one.handout.clip_height_px = 180;
        one.handout.preset = "ultrafast";
        return one;
    }
};

} // namespace ropeline::test
