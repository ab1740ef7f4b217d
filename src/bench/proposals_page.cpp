// Four arrangements side by side, to choose from.
#include "bench/proposals_page.h"

#include "bench/panels.h"

#include <epoxy/gl.h>
#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace leafwright {
namespace {

// Draws the plan from the front into the thumbnail's own texture.
void draw_thumbnail(ProposalsPage& page, std::size_t which, int width, int height, float pixel_scale) {
    ProposalsPage::Thumbnail& thumbnail = page.thumbnails[which];
    std::shared_ptr<Plan const> const& plan = page.made[which].plan;
    if (thumbnail.of == plan && thumbnail.width == width && thumbnail.height == height) return;
    PicturePane::Wish wish;
    wish.plan = plan;
    wish.options.stage = MakingStage::features;
    wish.options.pixel_scale = pixel_scale;
    wish.width_px = width;
    wish.height_px = height;
    Vec3 const size = scene_size(*plan, wish.options);
    wish.camera = home_camera(HomeView::front, size.x, size.y, size.z, static_cast<double>(width) / height);
    page.pane.draw(wish);
    if (thumbnail.texture == 0) glGenTextures(1, &thumbnail.texture);
    unsigned frame = 0;
    glGenFramebuffers(1, &frame);
    glBindFramebuffer(GL_FRAMEBUFFER, frame);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, page.pane.texture(), 0);
    glBindTexture(GL_TEXTURE_2D, thumbnail.texture);
    glCopyTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, 0, 0, width, height, 0);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    glDeleteFramebuffers(1, &frame);
    thumbnail.of = plan;
    thumbnail.width = width;
    thumbnail.height = height;
}

std::string words_of(ProposalMaker::Proposal const& proposal, Units units) {
    if (!proposal.plan) return proposal.remarks.empty() ? "none" : proposal.remarks.front().sentence();
    LeavesAnswer const& leaves = proposal.plan->leaves;
    std::string words = fmt::format("{} leaves, {} rows", leaves.count, leaves.rows);
    words += leaves.overlap.bare_mm2 < 1 ? ", no bare clay"
                                         : ", bare " + quantity_text(leaves.overlap.bare_mm2, Quantity::area, units);
    return words;
}

struct Slot {
    ImVec2 low;
    ImVec2 size;
    float caption = 0; // height
};

// Whether it was clicked.
bool show_slot(Desk const& desk, UiState& ui, ProposalsPage& page, std::size_t which, Slot const& slot) {
    float const em = ui.theme.em;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    ImVec2 const high{slot.low.x + slot.size.x, slot.low.y + slot.size.y};
    ImVec2 const picture_end{high.x, high.y - slot.caption};
    bool const there = which < page.made.size() && page.made[which].plan;
    ImGui::SetCursorScreenPos(slot.low);
    ImGui::PushID(static_cast<int>(which));
    bool const clicked = ImGui::InvisibleButton("proposal", slot.size) && there;
    bool const hovered = ImGui::IsItemHovered() && there;
    ImGui::PopID();
    mark(ui, fmt::format("proposal.{}", which + 1));
    draw.AddRectFilled(slot.low, high, paint::card, 0.4F * em);
    if (there) {
        int const width = std::max(16, static_cast<int>((picture_end.x - slot.low.x) * ui.pixel_ratio));
        int const height = std::max(16, static_cast<int>((picture_end.y - slot.low.y) * ui.pixel_ratio));
        draw_thumbnail(page, which, width, height, ui.pixel_ratio);
        draw.AddImage(texture_id(page.thumbnails[which].texture), slot.low, picture_end, {0, 1}, {1, 0});
    } else if (which == page.made.size()) {
        double const share = desk.proposer ? desk.proposer->progress(which) : 0;
        float const wide = 0.6F * slot.size.x;
        ImVec2 const bar{slot.low.x + 0.2F * slot.size.x, slot.low.y + 0.45F * slot.size.y};
        draw.AddRectFilled(bar, {bar.x + wide, bar.y + 0.8F * em}, paint::clay_pale, 0.4F * em);
        float const done = std::max(0.8F * em, static_cast<float>(share) * wide);
        draw.AddRectFilled(bar, {bar.x + done, bar.y + 0.8F * em}, paint::leaf, 0.4F * em);
    }
    draw.AddRect(slot.low, high, hovered ? paint::leaf_dark : paint::border_strong, 0.4F * em, 0,
                 (hovered ? 0.2F : 0.08F) * em);
    std::string const words = which < page.made.size()    ? words_of(page.made[which], ui.settings.units)
                              : which == page.made.size() ? "Being laid"
                                                          : "Waits";
    float const y = picture_end.y + 0.5F * (slot.caption - em);
    fitted_text(draw, ui.theme.strong, {slot.low.x + 0.5F * em, y}, slot.size.x - em, paint::ink,
                fmt::format("{}   {}", which + 1, words));
    if (hovered && !page.made[which].remarks.empty()) {
        std::string all;
        for (Problem const& remark : page.made[which].remarks)
            all += (all.empty() ? "" : "\n") + sentence_in(remark.sentence(), ui.settings.units);
        tip(ui, all);
    }
    return clicked;
}

std::vector<std::uint64_t> seeds_from(std::uint64_t first) {
    std::vector<std::uint64_t> seeds(kProposals);
    std::iota(seeds.begin(), seeds.end(), first);
    return seeds;
}

void start(Desk& desk, std::uint64_t first) {
    ProposalsPage& page = *desk.ui.proposals;
    page.first_seed = first;
    page.made.clear();
    desk.proposer->start(desk.state.history.now(), seeds_from(first));
}

void take(Desk& desk, std::size_t which) {
    ProposalsPage const& page = *desk.ui.proposals;
    if (which >= page.made.size() || !page.made[which].plan) return;
    ProposalMaker::Proposal const chosen = page.made[which];
    desk.proposer->cancel();
    desk.ui.proposals.reset();
    carry_out(desk, Commit{SetArrangement{chosen.plan->piece.leaves, chosen.seed}});
    desk.ui.selected.clear();
    if (!chosen.remarks.empty()) return say(desk.ui, chosen.remarks.front().sentence(), MessageTone::caution);
    say(desk.ui, words_of(chosen, desk.ui.settings.units) + ".");
}

} // namespace

ProposalsPage::~ProposalsPage() {
    for (Thumbnail const& thumbnail : thumbnails)
        if (thumbnail.texture) glDeleteTextures(1, &thumbnail.texture);
}

void propose(Desk& desk, Propose const& wish) {
    switch (wish.what) {
    case Propose::What::show:
        if (desk.ui.laying || desk.state.history.now().rows.rules.empty()) return;
        carry_out(desk, GoToStage{MakingStage::leaves});
        desk.ui.hand = Resting{};
        desk.state.history.drop_preview();
        desk.ui.proposals = std::make_shared<ProposalsPage>();
        return start(desk, desk.state.history.now().seed + 1);
    case Propose::What::more:
        if (desk.ui.proposals) start(desk, desk.ui.proposals->first_seed + kProposals);
        return;
    case Propose::What::take:
        if (desk.ui.proposals) take(desk, wish.which);
        return;
    case Propose::What::close:
        desk.proposer->cancel();
        desk.ui.proposals.reset();
        return;
    }
}

void refresh_proposals(Desk& desk) {
    if (!desk.ui.proposals) return;
    for (auto& proposal : desk.proposer->take()) desk.ui.proposals->made.push_back(std::move(proposal));
}

void proposals_page(Desk const& desk, UiState& ui, Intents& intents) {
    float const em = ui.theme.em;
    ImVec2 const screen = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowSize({0.94F * screen.x, 0.94F * screen.y});
    ImGui::SetNextWindowPos({0.5F * screen.x, 0.5F * screen.y}, ImGuiCond_Always, {0.5F, 0.5F});
    if (!begin_dialog(ui, "proposals")) return;
    ProposalsPage& page = *ui.proposals;
    title(ui, "Which of these?");
    soft(ui, "The same rules with other chances. Pinned leaves stay. Click the one to lay; it can be undone.");
    ImVec2 const from = ImGui::GetCursorScreenPos();
    ImVec2 const room = ImGui::GetContentRegionAvail();
    float const gap = 0.6F * em;
    float const footer = 3.2F * em;
    ImVec2 const size{0.5F * (room.x - gap), 0.5F * (room.y - footer - 2 * gap)};
    bool done = ui.dialogs.escape;
    for (std::size_t which = 0; which < kProposals; ++which) {
        std::size_t const row = which / 2;
        ImVec2 const low{from.x + static_cast<float>(which % 2) * (size.x + gap),
                         from.y + static_cast<float>(row) * (size.y + gap)};
        if (!show_slot(desk, ui, page, which, {low, size, 1.9F * em})) continue;
        intents.emplace_back(Propose{Propose::What::take, which});
        ImGui::CloseCurrentPopup();
    }
    ImGui::SetCursorScreenPos({from.x, from.y + 2 * (size.y + gap)});
    if (button(ui, "Four more", ButtonLook::strong, 12 * em, page.made.size() == kProposals))
        intents.emplace_back(Propose{Propose::What::more, 0});
    mark(ui, "proposals.more");
    ImGui::SameLine(0, gap);
    if (button(ui, "Keep what lies", ButtonLook::plain, 12 * em)) done = true;
    if (done) {
        intents.emplace_back(Propose{Propose::What::close, 0});
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
}

} // namespace leafwright
