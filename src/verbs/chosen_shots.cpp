#include "verbs/chosen_shots.h"

#include "verbs/verbs.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <csignal>
#include <set>
#include <unistd.h>

namespace ropeline {
namespace {

volatile std::sig_atomic_t was_interrupted = 0;

std::vector<Goalie> goalies_with_shots(const SeasonFile& file) {
    std::set<Id> with;
    for (const ShotFact& fact : file.shot_facts())
        with.insert(fact.goalie_id);
    std::vector<Goalie> goalies = file.goalies();
    std::erase_if(goalies, [&](const Goalie& goalie) { return !with.contains(goalie.id); });
    return goalies;
}

void show_going(const std::string& what, double share, double seconds_left) {
    if (isatty(fileno(stderr)) == 0) return;
    const int left = static_cast<int>(std::ceil(seconds_left));
    fmt::print(stderr, "\r{} {:>3.0f} %, {}:{:02} left  {}", what, std::floor(100.0 * share), left / 60,
               left % 60, share >= 1.0 ? "\n" : "");
}

std::string names_of(const std::vector<Goalie>& goalies) {
    std::string names;
    for (const Goalie& goalie : goalies)
        names += fmt::format("{}{}", names.empty() ? "" : ", ", goalie.name);
    return names;
}

} // namespace

Goalie chosen_goalie(const SeasonFile& file, const std::string& name) {
    const std::vector<Goalie> goalies = goalies_with_shots(file);
    if (goalies.empty()) throw WrongCall("this season has no shots of a goalie yet");
    if (name.empty()) {
        if (goalies.size() == 1) return goalies.front();
        throw WrongCall(fmt::format("this season has several goalies: say which with --goalie NAME ({})",
                                    names_of(goalies)));
    }
    const auto found = std::ranges::find(goalies, name, &Goalie::name);
    if (found == goalies.end())
        throw WrongCall(fmt::format("this season has no shots of a goalie named \"{}\"; it has {}", name,
                                    names_of(goalies)));
    return *found;
}

std::vector<Id> chosen_shots(const SeasonFile& file, const ShotChoice& choice) {
    const Id goalie = choice.goalie.empty() ? Id{} : chosen_goalie(file, choice.goalie).id;
    std::vector<Id> all;
    for (const Game& game : file.games()) {
        for (const Shot& shot : file.shots(game.id))
            if (goalie.empty() || shot.goalie_id == goalie) all.push_back(shot.id);
    }
    if (choice.shots.empty()) return all;
    for (const std::string& id : choice.shots) {
        if (std::ranges::find(all, id) == all.end())
            throw WrongCall(fmt::format(
                "this season has no shot {}{}; `ropeline summary SEASON --csv DIR` lists their ids", id,
                goalie.empty() ? "" : " of that goalie"));
    }
    return choice.shots;
}

std::vector<ShownPlay> chosen_plays(const SeasonFile& file, const ShotChoice& choice) {
    auto plays = shown_plays(file, chosen_shots(file, choice));
    const std::size_t wanted = plays.size();
    const auto left_out = without_film(plays);
    if (left_out.empty()) return plays;
    if (choice.shots.empty())
        fmt::print(stderr, "{} of {} shots have no film here and are left out\n", left_out.size(), wanted);
    else
        fmt::print(stderr, "{}\n", fmt::join(left_out, "\n"));
    return plays;
}

Going going_on(const std::string& what) {
    for (const int signal : {SIGINT, SIGTERM})
        std::signal(signal, [](int) { was_interrupted = 1; });
    return [what](double share, double seconds_left) {
        show_going(what, share, seconds_left);
        return was_interrupted == 0;
    };
}

} // namespace ropeline
