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
