// A season with a game, a goalie and a film, and a camera that sees the ice from a known place.
#pragma once

#include "camera/made_camera.h"
#include "desk/state/log_book.h"
#include "rink/landmarks.h"

#include <filesystem>
#include <string>
#include <unistd.h>
#include <vector>

namespace ropeline::test {

/// Behind the goal, high, as it is turned; the film's picture is 1280x720.
inline made::Camera behind_the_goal(IcePoint looks_at = {0.0, 7.0}) {
    return {.x_m = 2.0,
            .y_m = -14.0,
            .height_m = 20.0,
            .looks_at = looks_at,
            .focal_px = 1000.0,
            .image = {1280, 720}};
}

inline ImagePoint seen(IcePoint at) {
    return made::see(behind_the_goal(), at);
}

struct Folder {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("ropeline-log-" + std::to_string(getpid()));
    Folder() {
        std::filesystem::remove_all(path);
        std::filesystem::create_directories(path);
    }
    ~Folder() { std::filesystem::remove_all(path); }
};

inline SeasonFile new_season(const std::filesystem::path& path) {
    Season season;
    season.name = "Test season";
    season.parameters = parameters_for(Level::senior);
    return SeasonFile::create(path, season);
}

inline FrameAt at(std::int64_t frame) {
    return {frame, frame * 512, static_cast<double>(frame) / 30.0, {1280, 720}};
}

/// A book with a game, a goalie, a film; no fit yet.
inline LogBook begun(const std::filesystem::path& path) {
    LogBook book{new_season(path)};
    book.apply(NewGoalie{"Ilse Varga", "Harbour Pike"}, {});
    book.apply(NewGame{"2026-11-20", "Harbour Pike", "Mill Town Otters", RuleBookId::nhl}, {});
    FilmFacts facts;
    facts.path = "/films/one.mp4";
    facts.fingerprint = std::string{"f1"};
    facts.file_bytes = 1000;
    facts.shown_width_px = 1280;
    facts.shown_height_px = 720;
    book.apply(KeepFilm{facts, 900}, {});
    return book;
}

inline void fit(LogBook& book, std::int64_t frame, const made::Camera& camera = behind_the_goal()) {
    book.apply(BeginFit{}, at(frame));
    for (int offer = 0; offer < 40 && book.state().selection.fit()->clicks.size() < 6; ++offer) {
        const auto landmark =
            find_landmark(rule_book(RuleBookId::nhl), book.state().selection.fit()->offered);
        if (landmark) {
            book.apply(FilmClick{made::see(camera, landmark->at)}, at(frame));
        } else {
            book.apply(OfferOther{}, at(frame));
        }
    }
    book.apply(KeepFit{}, at(frame));
}

/// The clicked fits followed through the whole film by a camera that never moves.
inline void follow_still(LogBook& book) {
    for (const StoredFit& key : std::vector(book.state().fits)) {
        if (!key.carried_from.empty()) continue;
        CarriedFrame held;
        held.state = CarryState::held;
        held.sigma_m = 0.02;
        held.fit = key.fit;
        book.apply(KeepCarry{{key.id, 0, CarriedFrames(std::vector(900, held))}}, at(key.frame));
    }
}

inline void fit_still(LogBook& book, std::int64_t frame) {
    fit(book, frame);
    follow_still(book);
}

} // namespace ropeline::test
