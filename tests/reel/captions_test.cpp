#include "reel/captions.h"

#include <doctest/doctest.h>

namespace ropeline {

TEST_CASE("captions carry any text as text: no tag begins, no cue ends early, nothing is cut") {
    const std::string long_name(500, 'n');
    const Caption captions[] = {{0, 90000, "<img src=x onerror=alert(1)> --> & \"; rm -rf\n\n" + long_name},
                                {3661 * 90000LL + 45, 3662 * 90000LL, "two"}};
    CHECK(web_vtt(captions) == "WEBVTT\n\n00:00:00.000 --> 00:00:01.000\n&lt;img src=x onerror=alert(1)&gt; "
                               "--&gt; &amp; \"; rm -rf\n" +
                                   long_name + "\n\n01:01:01.001 --> 01:01:02.000\ntwo\n");
    CHECK(web_vtt({}) == "WEBVTT\n");
}

} // namespace ropeline
