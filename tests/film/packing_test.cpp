#include "film/backward_pass.h"
#include "film/packed_plane.h"

#include <doctest/doctest.h>

#include <cstring>
#include <random>

using namespace ropeline;

TEST_CASE("packing gives back every byte, of noise and of flat planes, at any width, with and without a "
          "neighbour") {
    std::mt19937 random(5);
    for (const int width : {1, 63, 64, 65, 130, 640}) {
        for (const int spread : {1, 3, 40, 256}) {
            CAPTURE(width);
            CAPTURE(spread);
            const int height = 9, stride = width + 7, unpacked_stride = (width + 63) / 64 * 64;
            std::vector<std::uint8_t> plane(static_cast<std::size_t>(stride * height)), other(plane.size());
            for (auto& sample : plane)
                sample = static_cast<std::uint8_t>(100 + random() % static_cast<unsigned>(spread));
            for (std::size_t i = 0; i < plane.size(); ++i)
                other[i] = static_cast<std::uint8_t>(plane[i] + random() % 3);
            for (const PlaneView neighbour : {PlaneView{}, PlaneView{other.data(), stride}}) {
                std::vector<std::uint8_t> packed{42};
                packed.resize(pack_plane({plane.data(), stride}, neighbour, width, height, packed, 1));
                std::vector<std::uint8_t> back(static_cast<std::size_t>(unpacked_stride * height));
                unpack_plane(packed.data() + 1, neighbour, back.data(), unpacked_stride, width, height);
                for (int y = 0; y < height; ++y) {
                    CHECK(std::memcmp(back.data() + y * unpacked_stride, plane.data() + y * stride,
                                      static_cast<std::size_t>(width)) == 0);
                }
            }
        }
    }
}

TEST_CASE("a window is as wide as memory allows, and packs only where that is cheaper") {
    CHECK(backward_pass_for({.frames = 100, .room_bytes = 500, .picture_bytes = 4}).kept == 100);
    const BackwardPass plain = backward_pass_for({.frames = 250,
                                                  .room_bytes = 510,
                                                  .picture_bytes = 3,
                                                  .packed_bytes = 1,
                                                  .skipped_cost = 0.5,
                                                  .packing_cost = 1.0});
    CHECK(plain.kept == 170);
    CHECK(plain.as_is == 170);
    const BackwardPass packed = backward_pass_for({.frames = 600,
                                                   .room_bytes = 480,
                                                   .picture_bytes = 12,
                                                   .packed_bytes = 3,
                                                   .skipped_cost = 0.5,
                                                   .packing_cost = 0.5});
    CHECK(packed.kept == 4 + (480 - 4 * 12) / 3);
    CHECK(packed.as_is == 4);
    // Cheap packing: as many are packed as it takes to keep the whole sequence, and no more.
    const BackwardNeeds cheap{.frames = 250,
                              .room_bytes = 510,
                              .picture_bytes = 3,
                              .packed_bytes = 1,
                              .skipped_cost = 0.9,
                              .packing_cost = 0.3};
    const BackwardPass whole = backward_pass_for(cheap);
    CHECK(whole.kept == 250);
    CHECK(whole.as_is == 130); // 130 of three bytes and 120 of one
    CHECK(cost_of_passes(cheap, 250) == doctest::Approx(250 + 0.3 * 120));
    CHECK(cost_of_passes(cheap, 171) == doctest::Approx(250 + 0.9 * 79 + 0.3 * 2)); // 169 and 2: 509 bytes
    CHECK(backward_pass_for({.frames = 600, .room_bytes = 1, .picture_bytes = 12}).kept == 1);
    CHECK(cost_of_passes(cheap, 170) == doctest::Approx(250 + 0.9 * 80));
}
