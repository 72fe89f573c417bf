#include "unite/choose.h"

#include "unite/settled.h"

#include <algorithm>
#include <array>
#include <iterator>

namespace ropeline {
namespace {

class Choosing {
public:
    Choosing(const FileRecords& mine, const FileRecords& theirs) : files_{&mine, &theirs} {
        for (const FileRecords* file : files_)
            for (const auto& [id, record] : file->records)
                for (std::size_t i = 0; i < record.owners; ++i)
                    owned_[record.needs[i]].insert(id);
    }

    void look_at(const Id& id, const std::map<Id, Whose>& decided) {
        const FileRecord* mine = files_[0]->find(id);
        const FileRecord* theirs = files_[1]->find(id);
        if (mine && theirs) return look_at_both(id, *mine, *theirs, decided);
        const Whose whose = mine ? Whose::mine : Whose::theirs;
        const auto& has = file(whose).stamps_of(id);
        const auto& lacks = file(mine ? Whose::theirs : Whose::mine).stamps_of(id);
        if (lacks.empty()) {
            chosen_.brought += whose == Whose::theirs && !theirs->follows;
            chosen_.kept.emplace(id, whose);
            return;
        }
        const ChangeOrder order = order_of(has, lacks);
        if (order == ChangeOrder::same || order == ChangeOrder::before) {
            chosen_.removed += whose == Whose::mine;
            return;
        }
        chosen_.kept.emplace(id, whose);
        chosen_.kept_although_removed.push_back(id);
        with_parts(id, whose);
    }

    /// What each kept record needs is kept; a carried fit without the fit it was carried from is not.
    void close() {
        keep_what_is_needed();
        std::erase_if(chosen_.kept, [&](const auto& one) {
            const FileRecord* record = file(one.second).find(one.first);
            return record->follows && !all_kept(*record);
        });
        std::ranges::sort(chosen_.kept_although_removed);
        std::ranges::sort(chosen_.kept_as_needed);
        drop_second_clock_marks();
    }

    Chosen take() { return std::move(chosen_); }

private:
    const FileRecords& file(Whose whose) const { return *files_[whose == Whose::mine ? 0 : 1]; }

    void look_at_both(const Id& id, const FileRecord& mine, const FileRecord& theirs,
                      const std::map<Id, Whose>& decided) {
        if (const auto found = decided.find(id); found != decided.end()) {
            chosen_.kept.emplace(id, found->second);
            return;
        }
        const ChangeOrder order = order_of(files_[0]->stamps_of(id), files_[1]->stamps_of(id));
        const bool alike = mine.content == theirs.content;
        chosen_.changed += order == ChangeOrder::before && !alike;
        // Alike, they may still differ in the ids of tags and marks: the newer one's, whoever comes first.
        const bool from_them =
            order == ChangeOrder::before || (alike && newer_of(*files_[0], *files_[1], id) == Whose::theirs);
        chosen_.kept.emplace(id, from_them ? Whose::theirs : Whose::mine);
    }

    bool all_kept(const FileRecord& record) const {
        return std::ranges::all_of(record.needs, [&](const Id& id) { return chosen_.kept.contains(id); });
    }

    /// Keeps what was removed along with it and is still there in this file.
    /// Out     it, and what is kept now and was not before.
    std::vector<Id> with_parts(const Id& id, Whose whose) {
        std::vector<Id> all{id};
        for (std::size_t i = 0; i < all.size(); ++i) {
            const auto owned = owned_.find(all[i]);
            if (owned == owned_.end()) continue;
            for (const Id& part : owned->second)
                if (file(whose).find(part) && chosen_.kept.try_emplace(part, whose).second)
                    all.push_back(part);
        }
        return all;
    }

    void keep_what_is_needed() {
        std::vector<Id> waiting;
        for (const auto& [id, whose] : chosen_.kept)
            waiting.push_back(id);
        std::ranges::sort(waiting);
        while (!waiting.empty()) {
            const Id id = std::move(waiting.back());
            waiting.pop_back();
            const Whose whose = chosen_.kept.at(id);
            const FileRecord& record = *file(whose).find(id);
            if (record.follows) continue;
            for (const Id& need : record.needs) {
                if (!file(whose).find(need) || !chosen_.kept.try_emplace(need, whose).second) continue;
                chosen_.kept_as_needed.push_back(need);
                std::ranges::move(with_parts(need, whose), std::back_inserter(waiting));
            }
        }
    }

    /// A frame has one clock mark: where a decision left two, the older one stays.
    void drop_second_clock_marks() {
        std::map<std::string, Id> at;
        for (const auto& [id, whose] : chosen_.kept) {
            const FileRecord* record = file(whose).find(id);
            if (record->kind != RecordKind::clock_mark) continue;
            const auto [other, is_new] = at.try_emplace(record->place, id);
            if (!is_new) other->second = std::min(other->second, id);
        }
        std::erase_if(chosen_.kept, [&](const auto& one) {
            const FileRecord* record = file(one.second).find(one.first);
            return record->kind == RecordKind::clock_mark && at.at(record->place) != one.first;
        });
    }

    std::array<const FileRecords*, 2> files_;
    std::unordered_map<Id, std::set<Id>> owned_;
    Chosen chosen_;
};

} // namespace

std::vector<Id> changed_on_both(const FileRecords& mine, const FileRecords& theirs) {
    std::vector<Id> both;
    for (const auto& [id, record] : mine.records) {
        const FileRecord* other = theirs.find(id);
        if (!other || other->content == record.content) continue;
        const ChangeOrder order = order_of(mine.stamps_of(id), theirs.stamps_of(id));
        if (order == ChangeOrder::apart || order == ChangeOrder::same) both.push_back(id);
    }
    std::ranges::sort(both);
    return both;
}

std::optional<Whose> newer_of(const FileRecords& mine, const FileRecords& theirs, const Id& id) {
    const RecordStamp* my_last = last_of(mine.stamps_of(id));
    const RecordStamp* their_last = last_of(theirs.stamps_of(id));
    if (!my_last && !their_last) return std::nullopt;
    if (!my_last || !their_last) return my_last ? Whose::mine : Whose::theirs;
    const auto when = [](const RecordStamp& stamp) { return std::tie(stamp.at, stamp.sitting); };
    if (when(*my_last) == when(*their_last)) return std::nullopt;
    return when(*my_last) < when(*their_last) ? Whose::theirs : Whose::mine;
}

Chosen choose(const FileRecords& mine, const FileRecords& theirs, const std::map<Id, Whose>& decided) {
    Choosing choosing{mine, theirs};
    std::vector<Id> ids;
    for (const FileRecords* file : {&mine, &theirs})
        for (const auto& [id, record] : file->records)
            ids.push_back(id);
    std::ranges::sort(ids);
    ids.erase(std::ranges::unique(ids).begin(), ids.end());
    for (const Id& id : ids)
        choosing.look_at(id, decided);
    choosing.close();
    Chosen chosen = choosing.take();
    chosen.figures = settled_figures(mine, theirs, chosen.kept);
    return chosen;
}

} // namespace ropeline
