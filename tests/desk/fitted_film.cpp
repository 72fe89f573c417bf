#include "desk/fitted_film.h"

#include "demo/filming.h"
#include "demo/truth.h"
#include "desk/state/fit_draft.h"
#include "desk/state/log_book.h"
#include "rink/landmarks.h"
#include "season/season_file.h"
#include "short_demo.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <unistd.h>

namespace ropeline::test {

namespace {

constexpr double allowed_m = 0.15;

bool film_is_kept(const std::filesystem::path& season) {
    try {
        const SeasonFile file = SeasonFile::open_to_read(season);
        return !file.games().empty() && !file.films(file.games().front().id).empty();
    } catch (const SeasonError&) {
        return false; // not written yet, or just being written
    }
}

/// Clicks the landmarks the desk offers, where the truth has them; curves, and those outside the picture, are passed
/// over.
void fit_rink_by_clicks(Clicker hand, const Truth& truth, int wanted) {
    hand.desk.key("f");
    hand.view.panel = log_layout(1440.0F, 860.0F, 16.0F, LogShape::fit).film;
    FitDraft shadow; // does what the desk does, to know what it offers
    shadow.image = hand.view.shown;
    shadow = with_other_offer(refitted(shadow));
    for (int clicked = 0, passed = 0; clicked < wanted && passed < 20 && !shadow.offered.empty();) {
        const auto landmark = find_landmark(rule_book(shadow.rules), shadow.offered);
        const ImagePoint at = landmark ? truth.seen(landmark->at, 0) : ImagePoint{};
        const bool inside = landmark && at.x_px > 4 && at.y_px > 4 &&
                            at.x_px < hand.view.shown.width_px - 4 && at.y_px < hand.view.shown.height_px - 4;
        if (inside) {
            hand.film(at);
            shadow = with_click(shadow, at);
            ++clicked;
        } else {
            hand.desk.key("x");
            shadow = with_other_offer(shadow);
            ++passed;
        }
    }
    hand.desk.key("Return");
}

/// The number keys of a card line, in the order of the card.
template <class Enum>
int place_of(CardField field, const nlohmann::json& key) {
    const auto value = from_key<Enum>(key.get<std::string>());
    REQUIRE(value);
    const auto choices = choices_of(field);
    const auto found = std::ranges::find(choices, label_of(*value));
    REQUIRE(found != choices.end());
    return static_cast<int>(found - choices.begin()) + 1;
}

bool rink_is_followed(const std::filesystem::path& season) {
    try {
        const SeasonFile file = SeasonFile::open_to_read(season);
        for (const Film& film : file.films(file.games().front().id)) {
            for (const StoredFit& fit : file.rink_fits(film.id)) {
                if (fit.carried_from.empty() && !file.carries_of(fit).empty()) return true;
            }
        }
    } catch (const SeasonError&) {
    }
    return false;
}

} // namespace

Place::Place() : path(std::filesystem::temp_directory_path() / fmt::format("ropeline-window-{}", getpid())) {
    std::filesystem::create_directories(path / "home");
}

Place::~Place() {
    std::filesystem::remove_all(path);
}

IcePoint ice(const nlohmann::json& at) {
    return {at[0].get<double>(), at[1].get<double>()};
}

ImagePoint Truth::seen(IcePoint at, std::int64_t frame) const {
    const auto& h = json["frames"][static_cast<std::size_t>(frame)]["image_from_ice"];
    const auto row = [&](std::size_t r) {
        return h[3 * r].get<double>() * at.x_m + h[3 * r + 1].get<double>() * at.y_m +
               h[3 * r + 2].get<double>();
    };
    return {row(0) / row(2), row(1) / row(2)};
}

const nlohmann::json& Truth::release(std::size_t chance) const {
    const nlohmann::json* found = nullptr;
    for (const auto& moment : json["chances"][chance]["moments"]) {
        if (moment["kind"] == "release") found = &moment;
    }
    REQUIRE(found);
    return *found;
}

void go(const DeskWindow& desk, std::int64_t from, std::int64_t to) {
    std::string keys;
    for (const std::int64_t target = to; target - from >= 10; from += 10)
        keys += "shift+Right ";
    for (; to > from; ++from)
        keys += "Right ";
    for (; to < from; --from)
        keys += "Left ";
    if (keys.empty()) return;
    desk.key(keys);
    REQUIRE(desk.wait_for_frame(to));
}

std::vector<int> card_keys(const nlohmann::json& chance) {
    return {place_of<Read>(CardField::read, chance["read"]),
            place_of<NextAction>(CardField::came, chance["came"]),
            place_of<Situation>(CardField::situation, chance["situation"]),
            place_of<Strength>(CardField::strength, chance["strength"]),
            place_of<Outcome>(CardField::outcome, chance["outcome"])};
}

void mark_and_choose(const Clicker& hand, const Truth& truth, std::size_t chance) {
    const auto& moment = truth.release(chance);
    const auto frame = moment["frame"].get<std::int64_t>();
    hand.desk.key("n");
    for (const auto& skate : moment["skates"])
        hand.film(truth.seen(ice(skate), frame));
    hand.film(truth.seen(ice(moment["puck"]), frame));
    for (const int number : card_keys(truth.json["chances"][chance]))
        hand.desk.key(std::to_string(number));
}

const nlohmann::json& Truth::frame(std::int64_t number) const {
    return json["frames"].at(static_cast<std::size_t>(number));
}

void compare(const ShotFact& fact, const Truth& truth, std::size_t chance) {
    compare(fact, truth, chance, truth.release(chance));
}

void compare(const ShotFact& fact, const Truth& truth, std::size_t chance, const nlohmann::json& goalie) {
    CAPTURE(chance);
    const auto& moment = truth.release(chance);
    const auto& story = truth.json["chances"][chance];
    REQUIRE(fact.goalie_at);
    REQUIRE(fact.puck_at);
    CHECK(distance(*fact.goalie_at, ice(goalie["goalie"])) < allowed_m);
    CHECK(distance(*fact.puck_at, ice(moment["puck"])) < allowed_m);
    const Parameters parameters = parameters_for(Level::senior);
    const Stance stance = stance_from_skates(ice(goalie["skates"][0]), ice(goalie["skates"][1]));
    const Reading true_reading =
        read_moment(stance, ice(moment["puck"]), rule_book(RuleBookId::nhl), parameters);
    REQUIRE(fact.band);
    CHECK(*fact.band == true_reading.band);
    CHECK(std::abs(*fact.depth_m - true_reading.depth_m) < allowed_m); // at most what the place may be off
    CHECK(key_of(*fact.read) == story["read"].get<std::string>());
    CHECK(key_of(*fact.came) == story["came"].get<std::string>());
    CHECK(key_of(*fact.situation) == story["situation"].get<std::string>());
    CHECK(key_of(*fact.strength) == story["strength"].get<std::string>());
    CHECK(key_of(*fact.outcome) == story["outcome"].get<std::string>());
    CHECK(fact.goalie == "Ilse Varga");
}

demo::Play chances_only(std::size_t chances, int around) {
    demo::Play whole = demo::make_play(1, false);
    demo::Play part;
    for (std::size_t index = 0; index < chances; ++index) {
        demo::Chance chance = whole.chances.at(index);
        const auto found = std::ranges::find(chance.moments, MomentKind::release, &demo::ChanceMoment::kind);
        REQUIRE(found != chance.moments.end());
        demo::ChanceMoment release = *found;
        const int first = std::max(0, release.frame - around);
        const int last = std::min(release.frame + around, static_cast<int>(whole.frames.size()) - 1);
        release.frame += static_cast<int>(part.frames.size()) - first;
        chance.moments = {release};
        part.chances.push_back(chance);
        part.frames.insert(part.frames.end(), whole.frames.begin() + first, whole.frames.begin() + last + 1);
    }
    return part;
}

OpenFilm::OpenFilm(const std::string& film_name) : film_(place.path / (film_name + ".mp4")) {
    std::filesystem::copy_file(short_demo() / film_.filename(), film_);
    std::ifstream known(short_demo() / (film_name + ".truth.json"));
    truth.json = nlohmann::json::parse(known);
    begin();
}

OpenFilm::OpenFilm(const std::string& film_name, const demo::Play& play)
    : film_(place.path / (film_name + ".mp4")) {
    const auto cameras =
        film_name == "end_zone" ? demo::end_zone_cameras(play) : demo::bench_side_cameras(play);
    demo::write_film(film_.string(), play, cameras, 1, [](int, int) {});
    truth.json = nlohmann::json::parse(demo::truth_json(film_.filename().string(), play, cameras, 1));
    begin();
}

void OpenFilm::begin() {
    desk.emplace(display, place.path / "home");
    desk->type("Ilse Varga");
    desk->key("Tab");
    desk->type("Harbour Pike");
    desk->key("Tab");
    desk->type("Mill Town Otters");
    desk->key("Tab Tab");
    desk->type(film_.string());
    desk->key("Return");
    REQUIRE(wait_for(30.0, film_is_kept, season()));
    desk->settle();
    hand.emplace(Clicker{*desk, {}});
    hand->view.panel = log_layout(1440.0F, 860.0F, 16.0F, LogShape::film).film;
    hand->view.shown = {1280, 720};
}

FittedFilm::FittedFilm(const std::string& film_name) : OpenFilm(film_name) {
    fit();
}

FittedFilm::FittedFilm(const std::string& film_name, const demo::Play& play) : OpenFilm(film_name, play) {
    fit();
}

void FittedFilm::fit() {
    fit_rink_by_clicks(*hand, truth, 9);
    const bool followed = wait_for(180.0, rink_is_followed, season());
    if (!followed) look("not_followed.png");
    REQUIRE(followed);
    desk->settle();
}

std::filesystem::path OpenFilm::season() const {
    return place.path / "home" / "Ropeline" / "My season.season";
}

void OpenFilm::look(const std::string& picture) const {
    if (const char* shots = std::getenv("ROPELINE_PICTURES"))
        desk->picture(std::filesystem::path(shots) / picture);
}

void OpenFilm::kill(const std::string& picture) {
    look(picture);
    CHECK(desk->running());
    desk->kill();
}

} // namespace ropeline::test
