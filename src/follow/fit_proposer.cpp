#include "follow/fit_proposer.h"

#include "camera/propose_fit.h"

namespace ropeline {

FitProposer::FitProposer(PicturePtr picture, FilmFacts facts, RuleBookId rules)
    : PictureWork(std::move(picture), std::move(facts), 5, // it is waited for
                  [rules](const PictureView& view, const std::stop_token& stop) -> std::optional<RinkFit> {
                      const auto found = propose_fit(view, rule_book(rules), stop);
                      return found ? std::optional{found->fit} : std::nullopt;
                  }) {}

} // namespace ropeline
