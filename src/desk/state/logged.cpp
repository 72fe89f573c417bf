#include "desk/state/logged.h"

#include "season/folded.h"
#include "season/trimmed.h"

#include <algorithm>

namespace ropeline {

namespace {

constexpr std::array<AskFact, shot_texts> texts = {
    {{"tags", "tags"}, {"drill", "drill"}, {"shooter_number", "shooter"}}};

} // namespace

const AskFact& fact_of(ShotText field) {
    return texts.at(static_cast<std::size_t>(field));
}

std::vector<AskFact> askable() {
    std::vector<AskFact> all;
    for (const DetailFact& fact : detail_facts())
        all.push_back({fact.key, fact.label});
    all.insert(all.end(), texts.begin(), texts.end());
    return all;
}

int net_place_at(double across, double up, std::string_view catches) {
    const int from_left = std::clamp(static_cast<int>(3.0 * across), 0, 2);
    const int from_glove = catches == "right" ? from_left : 2 - from_left;
    return (up >= 0.5 ? 1 : 4) + from_glove;
}

std::string written(const Shot& shot, ShotText field) {
    switch (field) {
    case ShotText::tags: {
        std::string text;
        for (const std::string& tag : shot.tags)
            text += (text.empty() ? "" : ", ") + tag;
        return text;
    }
    case ShotText::drill:
        return shot.drill;
    case ShotText::shooter_number:
        return shot.shooter_number ? std::to_string(*shot.shooter_number) : std::string{};
    }
    return {};
}

std::vector<std::string> tags_in(std::string_view text) {
    std::vector<std::string> tags;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(','), text.size());
        if (const auto tag = trimmed(text.substr(0, end)); !tag.empty()) tags.emplace_back(tag);
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    std::ranges::sort(tags);
    const auto twice = std::ranges::unique(tags);
    tags.erase(twice.begin(), twice.end());
    return tags;
}

std::string completed_tags(const std::vector<std::string>& known, const std::string& text) {
    const std::size_t comma = text.rfind(',');
    const std::size_t from = text.find_first_not_of(' ', comma == std::string::npos ? 0 : comma + 1);
    if (from == std::string::npos) return text;
    const std::string begun = folded(text.substr(from));
    const auto found =
        std::ranges::find_if(known, [&](const std::string& tag) { return folded(tag).starts_with(begun); });
    return found == known.end() ? text : text.substr(0, from) + *found;
}

std::string logged_words(const ShotEntry& entry) {
    std::string words;
    const auto add = [&](std::string_view more) {
        if (!more.empty()) words.append(",").append(more);
    };
    const auto add_details = [&](const Details& details) {
        for (int index = 0; index < detail_count; ++index)
            add(label_of(details, static_cast<Detail>(index)));
    };
    add_details(entry.shot.details);
    if (const Moment* moment = main_moment(entry)) add_details(moment->details);
    for (int index = 0; index < shot_texts; ++index)
        add(written(entry.shot, static_cast<ShotText>(index)));
    add(entry.shot.tagged_by);
    return words;
}

} // namespace ropeline
