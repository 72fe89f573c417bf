// Seasons made by a known cause: coming out takes goals away on clear shots and adds them on passes, and how far out a
// goalie stands follows the situation and the distance, which make goals likely or not by themselves.
#pragma once

#include "season/records.h"

#include <random>
#include <vector>

namespace ropeline::simulated {

struct League {
    int goalies = 8, games = 60, attempts = 4000;
    double on_clear_shots = -1.1; ///< what base or beyond adds to the log odds of a goal
    double on_passes = 1.1;
};

std::vector<ShotFact> season(const League& league, std::mt19937_64& random);

// The same on every machine, unlike the library's distributions.
double uniform(std::mt19937_64& random);
bool happens(double chance, std::mt19937_64& random);
int whole(int from, int to, std::mt19937_64& random); ///< both included
double normal(std::mt19937_64& random);

} // namespace ropeline::simulated
