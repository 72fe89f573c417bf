#include "follow/rink_finder.h"

namespace ropeline {

RinkFinder::RinkFinder(PicturePtr picture, FilmFacts facts, std::vector<RinkFit> fits, RuleBookId rules)
    : PictureWork(std::move(picture), std::move(facts), 9,
                  [fits = std::move(fits), rules](const PictureView& view, const std::stop_token&) {
                      return find_rink(fits, rule_book(rules), view);
                  }) {}

} // namespace ropeline
