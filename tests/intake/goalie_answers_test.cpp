// What comes back from a handout: as it was saved, and as anybody may have changed it.
#include "intake/goalie_answers.h"
#include "season/sample.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <fstream>

namespace ropeline {
namespace {

constexpr const char* first_id = "0190b3a2-0000-7000-8000-000000000001";
constexpr const char* second_id = "0190b3a2-0000-7000-8000-000000000002";

std::string answer(const std::string& id, const std::string& moment,
                   const std::string& more = R"("read": "pass", "ice_m": [0.4, 1.5])") {
    return fmt::format(R"({{"id": "{}", "moment": "{}", {}, "answered_at": "2026-11-25T14:03:00Z"}})", id,
                       moment, more);
}
std::string file_of(const std::string& answers, const std::string& by = "Ilse Tamm") {
    return fmt::format(R"({{"ropeline_answers": 1, "answered_by": "{}", "answers": [{}]}})", by, answers);
}

/// A season with one shot of one moment.
struct Answered {
    sample::Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    Id moment, goalie;
    Answered() {
        const sample::Ids ids = sample::fill(file);
        Shot shot = sample::shot(ids, 40);
        file.put(shot);
        Moment one = sample::moment(shot.id, ids);
        file.put(one);
        moment = one.id;
        goalie = ids.goalie;
    }
};

std::string refusal(const std::string& json) {
    try {
        read_answers(json);
    } catch (const AnswersError& error) {
        return error.what();
    }
    return "";
}

} // namespace

TEST_CASE("a goalie's answers go where Study keeps them, with who answered; a second time changes nothing") {
    Answered season;
    const std::string json =
        file_of(answer(first_id, season.moment) + "," +
                answer(second_id, season.moment, R"("read": "shot", "ice_m": [-1, 0.5], "took_s": 4.5)"));
    const TakenAnswers first = take_answers(season.file, read_answers(json));
    CHECK(words_of(first) == "2 answers by Ilse Tamm taken in");
    const auto kept = season.file.answers();
    REQUIRE(kept.size() == 2);
    CHECK(kept[0].id == first_id);
    CHECK(kept[0].moment_id == season.moment);
    CHECK(kept[0].goalie_id == season.goalie);
    CHECK(kept[0].answered_by == "Ilse Tamm");
    CHECK(kept[0].answered_at == "2026-11-25T14:03:00Z");
    CHECK(kept[0].read == Read::pass);
    CHECK(kept[0].ice == IcePoint{0.4, 1.5});
    CHECK_FALSE(kept[0].took_s);
    CHECK(kept[1].took_s == 4.5);
    const std::string before = sample::dump(season.folder / "a.season");
    CHECK(words_of(take_answers(season.file, read_answers(json))) ==
          "0 answers by Ilse Tamm taken in; 2 were there already");
    CHECK(sample::dump(season.folder / "a.season") == before);
    CHECK(season.file.undo_name() == "answers from a handout");
    season.file.undo();
    CHECK(season.file.answers().empty());
}

TEST_CASE(
    "answers that come in are worth what the desk would say, and bring their decision back; the log's undo "
    "passes over them as a follow-up") {
    Answered season;
    const auto undo = season.file.undo_name();
    // The shot of the sample came as it says; five metres beside the net no place is right.
    const auto answers =
        read_answers(file_of(answer(first_id, season.moment, R"("read": "shot", "ice_m": [9, 0.2])")));
    TakenAnswers taken;
    season.file.follow_up([&] { taken = take_answers(season.file, answers); });
    CHECK(taken.taken == 1);
    CHECK(season.file.undo_name() == undo);
    REQUIRE(season.file.answers().size() == 1);
    const Answer kept = season.file.answers().at(0);
    CHECK(kept.id == first_id);
    CHECK(kept.place_right == false);
    REQUIRE(kept.gave_away);
    CHECK(*kept.gave_away > 0.05);
    CHECK(kept.due_on == "2026-11-26");
}

TEST_CASE("answers about moments that the season has not are told and left out; an answer that is there is "
          "never replaced") {
    Answered season;
    take_answers(season.file, read_answers(file_of(answer(first_id, season.moment))));
    const TakenAnswers taken = take_answers(
        season.file,
        read_answers(file_of(answer(first_id, season.moment, R"("read": "shot", "ice_m": [9, 9])") + "," +
                                 answer(second_id, new_id()),
                             "Someone Else")));
    CHECK(taken.known == 1);
    CHECK(taken.taken == 0);
    CHECK(taken.not_of_season.size() == 1);
    REQUIRE(season.file.answers().size() == 1);
    CHECK(season.file.answers()[0].read == Read::pass);
    CHECK(season.file.answers()[0].answered_by == "Ilse Tamm");
}

TEST_CASE("a name of any letters is kept whole, and one that is too long is refused") {
    Answered season;
    const std::string odd = "<img src=x onerror=alert(1)>'); DROP TABLE answer; --";
    take_answers(season.file, read_answers(file_of(answer(first_id, season.moment), odd)));
    CHECK(season.file.answers()[0].answered_by == odd);
    CHECK(refusal(file_of("", std::string(201, 'n'))) == "the file: \"answered_by\" is too long");
}

TEST_CASE("what no handout saved is refused in one line") {
    const std::string moment = "0190b3a2-0000-7000-8000-00000000000a";
    CHECK(refusal("") == "the file is not JSON; take the one that the handout saved");
    CHECK(refusal("[]") == "the file must be an object");
    CHECK(refusal("{}") == "the file holds no answers; take the one that the handout saved");
    CHECK(refusal(R"({"ropeline_answers": 2})") ==
          "the answers are of a newer handout; use the program that made it");
    CHECK(refusal(std::string(most_answer_bytes + 1, ' ')) ==
          "the file is too long to be a goalie's answers; take the one that the handout saved");
    CHECK(refusal(std::string(500000, '[')) == "the file is nested too deep to be a goalie's answers");
    CHECK(refusal("{\"answered_by\": \"\xff\xfe\"}") ==
          "the file is not JSON; take the one that the handout saved");
    CHECK(refusal(R"({"ropeline_answers": 1, "answered_by": "x", "answers": {}})") ==
          "the file: \"answers\" must be a list");
    CHECK(refusal(R"({"ropeline_answers": 1, "answered_by": 7, "answers": []})") ==
          "the file: \"answered_by\" must be text");
    CHECK(refusal(R"({"ropeline_answers": 1, "answered_by": "x", "answers": [], "sql": ""})") ==
          "the file has a key that an answer does not have");
    CHECK(refusal(file_of("7")) == "answer 1 must be an object");
    CHECK(refusal(file_of(answer("../../etc/passwd", moment))) == "answer 1: \"id\" is not an id");
    CHECK(refusal(file_of(answer(first_id, moment, R"("read": "goal", "ice_m": [0, 1])"))) ==
          "answer 1: \"read\" must be shot or pass");
    CHECK(refusal(file_of(answer(first_id, moment, R"("read": "shot", "ice_m": [1e300, 1])"))) ==
          "answer 1: \"ice_m\" must be a number from -100 to 100");
    CHECK(refusal(file_of(answer(first_id, moment, R"("read": "shot", "ice_m": [1e999, 1])"))) ==
          "the file is not JSON; take the one that the handout saved");
    CHECK(refusal(file_of(answer(first_id, moment, R"("read": "shot", "ice_m": "0,1")"))) ==
          "answer 1: \"ice_m\" must be two numbers");
    CHECK(refusal(file_of(answer(first_id, moment, R"("read": "shot", "ice_m": [0, 1], "took_s": -1)"))) ==
          "answer 1: \"took_s\" must be a number from 0 to 86400");
    CHECK(refusal(file_of(answer(first_id, moment) + "," + answer(first_id, moment))) ==
          "answer 2 has the id of another one");
    std::string odd_time = file_of(answer(first_id, moment));
    odd_time.replace(odd_time.find("14:03"), 5, "24:03");
    CHECK(refusal(odd_time) == "answer 1: \"answered_at\" is not a time like 2026-11-25T14:03:00Z");
}

TEST_CASE("a file that is not there, a folder and one without end are refused") {
    const sample::Folder folder;
    CHECK_THROWS_AS(read_answers_file(folder / "none.json"), AnswersError);
    CHECK_THROWS_AS(read_answers_file(folder.path), AnswersError);
    CHECK_THROWS_AS(read_answers_file("/dev/zero"), AnswersError);
    std::ofstream(folder / "a.json") << "{}";
    CHECK(read_answers_file(folder / "a.json") == "{}");
}

} // namespace ropeline
