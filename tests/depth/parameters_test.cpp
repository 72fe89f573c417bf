#include "depth/parameters.h"

#include <doctest/doctest.h>

#include <set>

using namespace ropeline;

TEST_CASE("every parameter has a key of its own, a source, and levels inside its range") {
    std::set<std::string_view> keys;
    for (const ParameterFact& fact : parameter_facts()) {
        CAPTURE(fact.key);
        CHECK(keys.insert(fact.key).second);
        CHECK_FALSE(fact.source.empty());
        CHECK_FALSE(fact.label.empty());
        CHECK_FALSE(fact.unit.empty());
        for (const double value : fact.by_level)
            CHECK((fact.least <= value && value <= fact.most));
    }
    CHECK(keys.size() == 30);
}

TEST_CASE("parameters are read and written by key") {
    Parameters parameters = parameters_for(Level::junior);
    for (const ParameterFact& fact : parameter_facts()) {
        CHECK(parameter(parameters, fact.key) == fact.by_level[1]);
        CHECK(set_parameter(parameters, fact.key, fact.most));
        CHECK(parameter(parameters, fact.key) == fact.most);
    }
    CHECK(parameters.lateral_speed_mps == 5.0);
    CHECK(parameters.beyond_m[static_cast<std::size_t>(Situation::breakaway)] == 4.0);
    CHECK_FALSE(parameter(parameters, "lateral_speed").has_value());
    CHECK_FALSE(set_parameter(parameters, "beyond_scramble_m", 1.0));
}

TEST_CASE("a value lies inside the range that firmness draws it from") {
    for (const Level level : {Level::youth, Level::junior, Level::senior, Level::elite}) {
        const Parameters parameters = parameters_for(level);
        for (const ParameterFact& fact : parameter_facts()) {
            CAPTURE(fact.key);
            const double value = parameter(parameters, fact.key).value();
            const ParameterRange range = range_of(fact, level, value);
            CHECK((range.low <= value && value <= range.high));
            CHECK((range.low >= fact.least - 1e-12 && range.high <= fact.most + 1e-12));
            CHECK(range_of(fact, level, 2.0 * fact.most).high >= 2.0 * fact.most);
        }
    }
}

TEST_CASE("keys of levels and situations go round") {
    for (const Level level : {Level::youth, Level::junior, Level::senior, Level::elite})
        CHECK(level_from_key(key_of(level)) == level);
    for (const Situation situation : {Situation::rush, Situation::zone, Situation::penalty_kill,
                                      Situation::rebound, Situation::breakaway, Situation::neutral_ice}) {
        CHECK(situation_from_key(key_of(situation)) == situation);
    }
    CHECK_FALSE(level_from_key("pro").has_value());
    CHECK_FALSE(situation_from_key("").has_value());
    for (const Sight sight : {Sight::clear, Sight::partly, Sight::screened})
        CHECK(sight_from_key(key_of(sight)) == sight);
    CHECK_FALSE(sight_from_key("fog").has_value());
}
