#include "season/sample.h"
#include "season/season_file.h"

#include <doctest/doctest.h>

using namespace ropeline;
using sample::Folder;

TEST_CASE("a carried stretch comes back as it was kept, and goes with its fit") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    StoredFit key = sample::fit(ids.film);
    file.put(key);
    CHECK(file.carries_of(key).empty());

    StoredCarry carry{key.id, 40, {}};
    for (int frame = 0; frame < 30; ++frame) {
        CarriedFrame one;
        one.state = frame < 10 ? CarryState::held : frame < 20 ? CarryState::unsure : CarryState::lost;
        one.fit = key.fit;
        one.fit.image_from_ice[2] += 0.123456789 * frame;
        one.rms_px = 0.5;
        one.sigma_m = 0.03125;
        carry.frames.push_back(one);
    }
    file.put(carry);
    CHECK(file.undo_name() != "carry");
    const auto stretches = file.carries_of(key);
    REQUIRE(stretches.size() == 1);
    const StoredCarry* back = stretches.data();
    CHECK(back->first_frame == 40);
    CHECK(back->last_frame() == 69);
    REQUIRE(back->frames.size() == 30);
    for (std::size_t frame = 0; frame < 30; ++frame) {
        CHECK(back->frames[frame].state == carry.frames[frame].state);
        CHECK(back->frames[frame].fit.image_from_ice == carry.frames[frame].fit.image_from_ice);
        CHECK(back->frames[frame].sigma_m == 0.03125);
        for (std::size_t i = 0; i < 81; ++i) {
            CHECK(back->frames[frame].fit.covariance[i] ==
                  doctest::Approx(key.fit.covariance[i]).epsilon(1e-6));
        }
    }

    StoredFit carried = key;
    carried.id.clear();
    carried.carried_from = key.id;
    carried.frame = 45;
    file.put(carried);
    CHECK(file.rink_fits(ids.film).back().carried_from == key.id);
    file.remove_rink_fit(key.id);
    CHECK(file.carries_of(key).empty());
    for (const StoredFit& left : file.rink_fits(ids.film))
        CHECK(left.carried_from != key.id);
    REQUIRE(file.undo());
    CHECK(file.rink_fits(ids.film).back().carried_from == key.id);
}

TEST_CASE("stretches of a fit stand beside each other, and a frame is read from the one that has it") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    StoredFit key = sample::fit(ids.film);
    file.put(key);
    const auto stretch = [&](std::int64_t first, int count, double sigma_m) {
        StoredCarry carry{key.id, first, {}};
        for (int i = 0; i < count; ++i) {
            CarriedFrame one;
            one.state = CarryState::held;
            one.fit = key.fit;
            one.sigma_m = sigma_m;
            carry.frames.push_back(one);
        }
        return carry;
    };
    file.put(stretch(40, 30, 0.25));
    file.put(stretch(100, 10, 0.5));
    REQUIRE(file.carries_of(key).size() == 2);
    CHECK(file.carry_at(key, 45)->frames[0].sigma_m == 0.25);
    CHECK(file.carry_at(key, 109)->frames[0].sigma_m == 0.5);
    CHECK_FALSE(file.carry_at(key, 80).has_value());
    CHECK_FALSE(file.carry_at(key, 110).has_value());
    CHECK_FALSE(file.carry_at(key, 39).has_value());
    file.forget_stretch(file.carries_of(key)[0]);
    REQUIRE(file.carries_of(key).size() == 1);
    CHECK(file.carries_of(key)[0].first_frame == 100);

    const CarriedFrame back = stretch(0, 1, 0.5).frames[0];
    for (int row = 0; row < 3; ++row) {
        for (int column = 0; column < 3; ++column) {
            double sum = 0.0;
            for (int k = 0; k < 3; ++k)
                sum += back.fit.image_from_ice[static_cast<std::size_t>(3 * row + k)] *
                       back.fit.ice_from_image[static_cast<std::size_t>(3 * k + column)];
            CHECK(sum == doctest::Approx(row == column ? 1.0 : 0.0).epsilon(1e-9));
        }
    }
}
