#include "unite/standing.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>

namespace ropeline {
namespace {

class Standings {
public:
    explicit Standings(const KnownRecords& known) : known_(known) {
        for (const auto& [id, one] : known_) {
            if (!one.removal.all || one.record->follows) continue;
            for (std::size_t i = 0; i < one.record->owners; ++i)
                removed_parts_[one.record->needs[i]].push_back(id);
        }
    }

    Standing take() {
        for (const auto& [id, one] : known_)
            if (!one.removal.all && !one.record->follows) show(id, false);
        while (!waiting_.empty()) {
            const Id id = std::move(waiting_.back());
            waiting_.pop_back();
            look_at(id);
        }
        for (const auto& [id, one] : known_)
            if (one.record->follows && all_there(one.record->needs)) there_.emplace(id, false);
        drop_second_clock_marks();
        Standing standing;
        for (const auto& [id, whole] : there_)
            standing.there.insert(id);
        for (const Id& id : needed_)
            if (standing.there.contains(id)) standing.needed.push_back(id);
        std::ranges::sort(standing.needed);
        return standing;
    }

private:
    void show(const Id& id, bool whole) {
        const auto [known, is_new] = there_.try_emplace(id, whole);
        if (!is_new && (known->second || !whole)) return;
        known->second |= whole;
        waiting_.push_back(id);
    }

    bool all_there(std::span<const Id> ids) const {
        return std::ranges::all_of(ids, [&](const Id& id) { return there_.contains(id); });
    }

    void look_at(const Id& id) {
        const FileRecord& record = *known_.at(id).record;
        for (const Id& need : record.needs) {
            const auto found = known_.find(need);
            if (found == known_.end() || !found->second.removal.all) continue;
            if (!there_.contains(need)) needed_.insert(need);
            show(need, true);
        }
        const auto along = removed_parts_.find(id);
        if (along == removed_parts_.end()) return;
        const bool whole = there_.at(id);
        for (const Id& part : along->second) {
            const KnownRecord& one = known_.at(part);
            const bool comes_along = !one.removal.of_itself || (whole && one.removal.along);
            if (comes_along && all_there(std::span{one.record->needs}.first(one.record->owners)))
                show(part, whole);
        }
    }

    void drop_second_clock_marks() {
        std::map<std::string, Id> at;
        for (const auto& [id, whole] : there_) {
            const FileRecord& record = *known_.at(id).record;
            if (record.kind != RecordKind::clock_mark) continue;
            const auto [other, is_new] = at.try_emplace(record.place, id);
            if (!is_new) other->second = std::min(other->second, id);
        }
        std::erase_if(there_, [&](const auto& one) {
            const FileRecord& record = *known_.at(one.first).record;
            return record.kind == RecordKind::clock_mark && at.at(record.place) != one.first;
        });
    }

    const KnownRecords& known_;
    std::unordered_map<Id, std::vector<Id>> removed_parts_; ///< by what they belong to
    std::unordered_map<Id, bool> there_;                    ///< whether what was removed along comes back too
    std::set<Id> needed_;
    std::vector<Id> waiting_;
};

KnownRecords known_records(const FileRecords& file) {
    KnownRecords known;
    for (const auto& [id, record] : file.records)
        known.emplace(id, KnownRecord{&record, removal_of(file.stamps_of(id))});
    return known;
}

/// What stands by its stamps and is not in the file was removed by other means.
void note_what_is_gone(FileRecords& file) {
    const Standing now = standing(known_records(file));
    for (const Id& id : now.there) {
        if (!file.records.at(id).removed) continue;
        const auto stamps = file.stamps.find(id);
        if (stamps == file.stamps.end() || file.records.at(id).follows) {
            file.records.erase(id);
            continue;
        }
        for (RecordStamp& stamp : stamps->second)
            stamp.removed_at = std::max(stamp.removed_at, stamp.at);
    }
}

/// What is in the file and does not stand by its stamps was kept there since it was needed: as good as a change.
void note_what_is_there(FileRecords& file) {
    const Standing now = standing(known_records(file));
    for (const auto& [id, record] : file.records) {
        if (record.removed || record.follows || now.there.contains(id)) continue;
        auto& stamps = file.stamps[id];
        const RecordStamp* last = last_of(stamps);
        std::string known = id;
        for (const RecordStamp& stamp : stamps)
            known += fmt::format(" {} {} {} {}", stamp.sitting, stamp.at, stamp.removed_at, stamp.along_at);
        const auto sitting = static_cast<std::int64_t>(std::hash<std::string>{}(known));
        stamps = together(stamps, {{sitting,
                                    last ? last->at : std::string{"1970-01-01T00:00:00.000Z"},
                                    last ? last->by : std::string{},
                                    {},
                                    {}}});
    }
}

} // namespace

Removal removal_of(std::span<const RecordStamp> mine, std::span<const RecordStamp> theirs) {
    if (mine.empty() && theirs.empty()) return {};
    Removal removal{true, true, true};
    const auto count = [&](const std::string& at, const std::string& removed_at,
                           const std::string& along_at) {
        removal.all &= at <= std::max(removed_at, along_at);
        removal.of_itself &= at <= removed_at;
        removal.along &= at <= along_at;
    };
    auto m = mine.begin();
    auto t = theirs.begin();
    while (m != mine.end() || t != theirs.end()) {
        const bool from_mine = t == theirs.end() || (m != mine.end() && m->sitting <= t->sitting);
        const bool from_theirs = m == mine.end() || (t != theirs.end() && t->sitting <= m->sitting);
        if (from_mine && from_theirs)
            count(std::max(m->at, t->at), std::max(m->removed_at, t->removed_at),
                  std::max(m->along_at, t->along_at));
        else
            count((from_mine ? m : t)->at, (from_mine ? m : t)->removed_at, (from_mine ? m : t)->along_at);
        m += from_mine;
        t += from_theirs;
    }
    return removal;
}

Standing standing(const KnownRecords& known) {
    return Standings{known}.take();
}

void settle_removals(FileRecords& file) {
    bool any = false;
    for (auto& [id, stamps] : file.stamps) {
        const bool has_rows = file.records.contains(id);
        for (RecordStamp& stamp : stamps) {
            if (!has_rows) stamp.removed_at = std::max(stamp.removed_at, stamp.at);
            any |= !stamp.removed_at.empty() || !stamp.along_at.empty();
        }
    }
    any |= std::ranges::any_of(file.records, [](const auto& one) { return one.second.removed; });
    if (!any) return;
    note_what_is_gone(file);
    note_what_is_there(file);
    note_what_is_gone(file);
}

} // namespace ropeline
