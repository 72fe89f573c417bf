#include "film/fields.h"

#include "film/film_reader.h"

#include <doctest/doctest.h>

#include "film/truth.h"

using namespace ropeline;

TEST_CASE("each field has the rows that the ffmpeg command line takes for it") {
    const clips::Folder folder;
    const std::string path = folder.file("interlaced.ts");
    clips::ffmpeg("-f lavfi -i testsrc2=s=128x72:r=50:d=1 -vf tinterlace=interleave_top -c:v mpeg2video "
                  "-flags +ilme+ildct -top 1 -b:v 2M " +
                  clips::quoted(path));
    FilmReader film(path, {.threads = clips::decoder_threads});
    CHECK(film.facts().interlaced);
    CHECK(film.facts().top_field_first);
    CHECK(first_field(film.facts()) == Field::top);
    const std::string top = folder.file("top.nut"), bottom = folder.file("bottom.nut");
    clips::ffmpeg("-i " + clips::quoted(path) + " -fps_mode passthrough -vf field=top -c:v rawvideo " +
                  clips::quoted(top));
    clips::ffmpeg("-i " + clips::quoted(path) + " -fps_mode passthrough -vf field=bottom -c:v rawvideo " +
                  clips::quoted(bottom));
    const auto tops = clips::truth_of(top), bottoms = clips::truth_of(bottom);
    REQUIRE(static_cast<std::int64_t>(tops.size()) == film.frames().count());
    for (std::int64_t i = 0; i < film.frames().count(); ++i) {
        const PicturePtr frame = film.picture(FrameIndex{i});
        CHECK(field_of(frame, Field::top)->md5() == tops[static_cast<std::size_t>(i)].md5);
        CHECK(field_of(frame, Field::bottom)->md5() == bottoms[static_cast<std::size_t>(i)].md5);
        CHECK(field_of(frame, Field::top)->height_px() == 36);
    }
}
