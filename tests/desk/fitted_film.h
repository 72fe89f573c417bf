// The real window from an empty folder to a demo film whose rink is fitted by clicks and followed, with the film's
// own truth beside it.
#pragma once

#include "demo/play.h"
#include "desk/real_window.h"
#include "rink/ice_point.h"
#include "season/records.h"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace ropeline::test {

/// A folder of its own, gone with the object; `home` in it is the coach's.
struct Place {
    std::filesystem::path path;
    Place();
    ~Place();
    Place(const Place&) = delete;
    Place& operator=(const Place&) = delete;
};

IcePoint ice(const nlohmann::json& at);

/// What the demo film shows, to the centimetre.
struct Truth {
    nlohmann::json json;
    ImagePoint seen(IcePoint at, std::int64_t frame) const;
    const nlohmann::json& release(std::size_t chance) const;
    const nlohmann::json& frame(std::int64_t number) const;
};

struct Clicker {
    const DeskWindow& desk;
    FilmView view;
    void film(ImagePoint at) const { desk.click(view.to_screen(at)); }
};

/// Steps to a frame and waits until it is on screen.
void go(const DeskWindow& desk, std::int64_t from, std::int64_t to);

/// The number keys of the card's lines for a chance, in the order of the card.
std::vector<int> card_keys(const nlohmann::json& chance);

/// New shot, both skates, the puck, then the card.
void mark_and_choose(const Clicker& hand, const Truth& truth, std::size_t chance);

/// The row of a chance against the film's truth; `goalie`: where the goalie was when it was marked, else the release.
void compare(const ShotFact& fact, const Truth& truth, std::size_t chance);
void compare(const ShotFact& fact, const Truth& truth, std::size_t chance, const nlohmann::json& goalie);

/// The demo's play around its first chances only, `around` frames before and after each release: all the shots, little
/// of the film.
demo::Play chances_only(std::size_t chances, int around);

/// From an empty folder to an open film.
struct OpenFilm {
    /// `film_name`: end_zone or bench_side, the camera that sees the demo's first seconds, or the play given.
    explicit OpenFilm(const std::string& film_name);
    OpenFilm(const std::string& film_name, const demo::Play& play);
    std::filesystem::path season() const;
    const std::filesystem::path& film() const { return film_; }
    /// Looks, and then does what a power cut does.
    void kill(const std::string& picture);
    void look(const std::string& picture) const;

    Place place;
    Truth truth;
    VirtualDisplay display;
    std::optional<DeskWindow> desk;
    std::optional<Clicker> hand;

private:
    void begin();
    std::filesystem::path film_;
};

/// The same with the rink fitted by clicks and followed.
struct FittedFilm : OpenFilm {
    explicit FittedFilm(const std::string& film_name);
    FittedFilm(const std::string& film_name, const demo::Play& play);

private:
    void fit();
};

} // namespace ropeline::test
