#include "desk/exports.h"

#include "desk/picture_clipboard.h"
#include "desk/state/folders.h"
#include "film/background.h"
#include "season/dates.h"
#include "season/whole_file.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>

namespace ropeline {

namespace {

constexpr const char* nothing_made = "Stopped; nothing was written.";

std::string left_out_words(const std::vector<std::string>& left_out) {
    if (left_out.empty()) return "";
    return fmt::format(" {} left out: {}{}", left_out.size(), left_out.front(),
                       left_out.size() > 1 ? ", …" : "");
}

std::string name_of_file(const std::filesystem::path& path) {
    return path.filename().string();
}

void refuse_if_there(const std::filesystem::path& path) {
    std::error_code failed;
    if (std::filesystem::exists(path, failed))
        throw ReelError(fmt::format("{} is there already: type another name.", name_of_file(path)));
}

void require_ending(const std::filesystem::path& path, std::initializer_list<const char*> endings,
                    const char* words) {
    const std::string ending = path.extension().string();
    if (std::ranges::find(endings, ending) == endings.end())
        throw ReelError(fmt::format("{}: {}.", name_of_file(path), words));
}

} // namespace

Export::Export(ExportWish wish) : wish_(std::move(wish)), thread_([this] { run(); }) {}

Export::~Export() {
    stop();
    thread_.join();
}

std::string Export::words() const {
    const std::scoped_lock lock{mutex_};
    return words_;
}

void Export::run() {
    constexpr int gives_way = 5;
    work_in_background(gives_way);
    std::string words;
    try {
        words = make();
    } catch (const std::bad_alloc&) {
        words = "There is not enough memory for this: close other programs, then try again.";
        trouble_ = true;
    } catch (const std::exception& error) {
        words = error.what();
        std::ranges::replace(words, '\n', ' ');
        trouble_ = true;
    }
    {
        const std::scoped_lock lock{mutex_};
        words_ = std::move(words);
    }
    finished_ = true;
}

std::string Export::make_still(const ShownPlay& play) {
    require_ending(wish_.to, {".png", ".svg"}, "a still is a .png or an .svg file");
    refuse_if_there(wish_.to);
    const auto shown = std::ranges::find(play.moments, wish_.moment_id,
                                         [](const ShownMoment& one) { return one.moment.id; });
    if (shown == play.moments.end())
        throw ReelError("This moment is on no film, so there is no picture of it.");
    const auto kind = wish_.to.extension() == ".svg" ? StillKind::svg : StillKind::png;
    const std::string bytes = still_of(play, *shown, kind, wish_.still);
    if (stopped_) return nothing_made;
    write_whole_file(wish_.to, bytes);
    on_clipboard_ = kind == StillKind::png && put_on_clipboard(wish_.to);
    return fmt::format("The still is {}.", wish_.to.string());
}

std::string Export::make() {
    const Going going = [this](double share, double seconds_left) {
        share_ = share;
        seconds_left_ = seconds_left;
        return !stopped_;
    };
    const SeasonFile file = SeasonFile::open_to_read(wish_.season);
    auto plays = shown_plays(file, wish_.shots, wish_.unit);
    const auto left_out = without_film(plays);
    if (plays.empty())
        throw ReelError(left_out.empty() ? "There is no shot to show: choose some first."
                                         : "None of these shots has its film: " + left_out.front());
    if (wish_.kind == ExportKind::still) return make_still(plays.front());
    ReelEnd end{};
    if (wish_.kind == ExportKind::reel) {
        require_ending(wish_.to, {".mp4"}, "a reel is an MP4 file, name it something.mp4");
        if (!wish_.replaces) refuse_if_there(wish_.to);
        end = make_reel(plays, wish_.to.string(), wish_.reel, going);
    } else {
        std::erase_if(plays, [&](const ShownPlay& play) { return play.shot.goalie_id != wish_.goalie_id; });
        if (plays.empty())
            throw ReelError("None of these shots is this goalie's: choose others, or another goalie.");
        auto facts = file.shot_facts();
        std::erase_if(facts, [&](const ShotFact& fact) { return fact.goalie_id != wish_.goalie_id; });
        HandoutOptions options = wish_.handout;
        const auto goalies = file.goalies();
        options.goalie =
            *std::ranges::find(goalies, wish_.goalie_id, &Goalie::id); // of a play, so it is there
        options.season = file.season().name;
        options.league = file.season().league;
        end = make_handout(plays, facts, wish_.to, options, going);
    }
    if (end == ReelEnd::stopped) return nothing_made;
    return fmt::format("The {} of {} shot{} is {}{}.{}", wish_.kind == ExportKind::reel ? "reel" : "handout",
                       plays.size(), plays.size() == 1 ? "" : "s", wish_.to.string(),
                       wish_.reel.voice.empty() ? "" : ", with your voice over it", left_out_words(left_out));
}

std::filesystem::path suggested_export_path(const std::filesystem::path& season, ExportKind kind,
                                            const std::string& about) {
    std::string name = kind == ExportKind::reel ? "reel" : kind == ExportKind::still ? "still" : "handout";
    std::string plain;
    constexpr std::size_t longest = 60;
    for (const char letter : about) {
        const auto byte = static_cast<unsigned char>(letter);
        const bool kept = byte < 0x80 ? std::isalnum(byte) != 0 || letter == '-' : true;
        plain += kept ? letter : ' ';
        if (plain.size() >= longest && byte < 0x80) break;
    }
    while (!plain.empty() && plain.back() == ' ')
        plain.pop_back();
    if (!plain.empty()) name += " " + plain;
    name += " " + today();
    const char* ending = kind == ExportKind::reel ? ".mp4" : kind == ExportKind::still ? ".png" : "";
    return free_path(season.parent_path() / (name + ending));
}

} // namespace ropeline
