// Memory for decoded pictures, asked for and given back from the decoder's C code.
#include "film/picture_memory.h"
#include "no_memory.h"

#include <doctest/doctest.h>

#include <thread>
#include <vector>

using namespace ropeline;

TEST_CASE("a decoder that finds no memory for a picture is told so, and gives pictures back all the same") {
    PictureMemory pictures(2);
    AVBufferRef* one = pictures.get(5000);
    AVBufferRef* two = pictures.get(5000);
    REQUIRE(one != nullptr);
    REQUIRE(two != nullptr);
    CHECK(one->size >= 5000);

    AVBufferRef* refused = one;
    {
        const sample::NoMemoryElsewhere no_memory;
        std::thread([&] { // an exception that left the decoder's C code would end the program here
            av_buffer_unref(&one);
            av_buffer_unref(&two);
            refused = pictures.get(5000);
        })
            .join();
    }
    CHECK(one == nullptr);
    CHECK(two == nullptr);
    CHECK(refused == nullptr);
    AVBufferRef* again = pictures.get(5000);
    CHECK(again != nullptr);
    av_buffer_unref(&again);
}
