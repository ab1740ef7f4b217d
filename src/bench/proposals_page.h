// Four arrangements side by side: the state of the page. Lives as long as the page is open, with its pictures.
#pragma once

#include "bench/picture_pane.h"
#include "bench/proposal_maker.h"

#include <array>
#include <vector>

namespace leafwright {

inline constexpr std::size_t kProposals = 4;

struct ProposalsPage {
    ProposalsPage() = default;
    ~ProposalsPage();
    ProposalsPage(ProposalsPage const&) = delete;
    ProposalsPage& operator=(ProposalsPage const&) = delete;

    std::uint64_t first_seed = 1;
    std::vector<ProposalMaker::Proposal> made; // as they come
    PicturePane pane;                          // draws each once
    struct Thumbnail {
        unsigned texture = 0;
        int width = 0;
        int height = 0;
        std::shared_ptr<Plan const> of;
    };
    std::array<Thumbnail, kProposals> thumbnails;
};

} // namespace leafwright
