// The bench's loop: wait, read, show, carry out.
#include "bench/bench.h"

#include "bench/cut_keeper.h"
#include "bench/panels.h"
#include "bench/report.h"
#include "bench/trace_page.h"
#include "bench/window.h"
#include "piece/leaf_book.h"
#include "piece/piece_json.h"

#include <imgui_internal.h>

#include <fmt/format.h>

#include <cstdio>

namespace leafwright {
namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) { return std::chrono::duration<double>(Clock::now() - start).count(); }

// Everything that lives as long as the window, in the order in which it is made.
struct Bench {
    Clock::time_point start = Clock::now();
    std::unique_ptr<Window> window;
    std::unique_ptr<Desk> desk;
    PicturePane pane;
    LeafDrawings drawings;
    ReportCounts counts;
    std::optional<std::filesystem::path> report;
    std::string reported;
};

void first_piece(Desk& desk, BenchRequest const& request) {
    if (request.piece) {
        open_path(desk, *request.piece, true);
    } else if (request.demo) {
        auto piece = demo_piece(*request.demo);
        if (piece) {
            desk.state.history = History(std::move(*piece));
            desk.state.history.mark_saved();
        } else {
            say(desk.ui, piece.problem().sentence(), MessageTone::fault);
        }
    }
    if (desk.state.history.now().leaves.empty() && desk.state.path.empty() && !request.demo)
        desk.ui.stage = MakingStage::drape;
}

void set_theme(Bench& bench) {
    UiState& ui = bench.desk->ui;
    bool const first = ui.theme.text == nullptr;
    ui.pixel_ratio = bench.window->pixel_ratio();
    auto const em = kTextHeight * static_cast<float>(ui.text_scale) * bench.window->screen_scale();
    ui.theme = make_theme(em, ui.pixel_ratio);
    if (!first) bench.window->rebuild_font_texture(); // the first is made with the first frame
}

bool theme_fits(Bench const& bench) {
    UiState const& ui = bench.desk->ui;
    auto const em = kTextHeight * static_cast<float>(ui.text_scale) * bench.window->screen_scale();
    return ui.theme.text && ui.theme.em == em && ui.pixel_ratio == bench.window->pixel_ratio();
}

std::unique_ptr<Desk> make_desk(BenchRequest const& request, Settings const& settings) {
    auto desk = std::make_unique<Desk>(new_piece(), Window::wake);
    desk->state.history.mark_saved();
    desk->config = config_folder();
    desk->kept = state_folder();
    desk->leaves = leaves_folder();
    desk->ui.settings = settings;
    if (request.inches) desk->ui.settings.units = Units::inches;
    double const scale = request.text_scale > 0 ? request.text_scale : settings.text_scale;
    desk->ui.text_scale = scale > 0 ? std::clamp(scale, 1.0, 2.0) : 1.0;
    auto const copies = copies_left_behind(desk->kept);
    if (!copies.empty()) desk->ui.dialogs.recovery = copies.front();
    return desk;
}

// Arrow keys over a slider move it, not the leaf.
bool steps_slider(UiState& ui, DoAct const* act) {
    if (!ui.on_slider || !act || (act->act != Act::nudge_left && act->act != Act::nudge_right)) return false;
    ui.slider_steps += (act->act == Act::nudge_right ? 1 : -1) * (act->far ? 10 : 1);
    return true;
}

void read_keys(Bench& bench) {
    Desk& desk = *bench.desk;
    bool const typing = ImGui::GetIO().WantTextInput;
    for (KeyPress const& press : std::exchange(bench.window->input().keys, {})) {
        auto const intent = intent_of(press);
        if (!intent) continue;
        auto const* act = std::get_if<DoAct>(&*intent);
        if (asks_something(desk.ui)) {
            bool const closes = act && (act->act == Act::put_back || (act->act == Act::toggle_keys && !typing));
            desk.ui.dialogs.escape = desk.ui.dialogs.escape || closes;
            desk.ui.dialogs.undo = desk.ui.dialogs.undo || (act && act->act == Act::undo && !typing);
            continue;
        }
        bool const is_step = act && (act->act == Act::undo || act->act == Act::redo || act->act == Act::select_all);
        bool const goes_to_text = typing && (!press.ctrl || is_step);
        bool const popup = ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
        if (goes_to_text || popup || is_busy(desk.ui.hand)) {
            bool const back = act && act->act == Act::put_back;
            if (back && popup)
                ImGui::ClosePopupsOverWindow(nullptr, false);
            else if (back && is_busy(desk.ui.hand))
                carry_out(desk, *intent);
            continue;
        }
        if (!steps_slider(desk.ui, act)) carry_out(desk, *intent);
    }
    for (auto const& path : std::exchange(bench.window->input().dropped, {}))
        carry_out(desk, is_leaf_file(path)      ? Intent{BookAct{BookAct::What::import, {}, path}}
                        : is_picture_file(path) ? Intent{OpenPhoto{path}}
                                                : Intent{OpenPath{path}});
    if (std::exchange(bench.window->input().close_asked, false)) carry_out(desk, CloseBench{});
}

void show(Bench& bench) {
    Desk& desk = *bench.desk;
    UiState& ui = desk.ui;
    Vec2 const size = bench.window->size();
    Layout const layout = layout_of(ui, static_cast<float>(size.x), static_cast<float>(size.y));
    ui.compact = layout.compact;
    Intents intents;
    ui.marks.clear();
    ui.items.clear();
    ui.on_slider = false;
    ImGui::PushFont(ui.theme.text);
    auto const records = std::exchange(bench.window->input().pointer, {});
    picture_panel(layout.picture, desk, bench.pane, records, intents);
    top_bar(layout.top, desk, ui, intents);
    key_figures(layout.figures, desk, ui);
    leaf_tray(layout.tray, desk.state.history.shown(), ui, bench.drawings, intents);
    status_line(layout.status, desk, bench.drawings, ui, intents);
    worktop(layout.worktop, desk, ui, bench.drawings, intents);
    making_line(layout.line, desk.state.plan.get(), desk.state.second.get(), ui, intents);
    message_bar(layout.picture, ui);
    dialogs(desk, ui, intents);
    ui.slider_steps = 0; // taken, or the pointer has gone
    ImGui::PopFont();
    carry_out(desk, intents);
}

// How long nothing will happen by itself; below 0: for ever.
double idle_seconds(Bench const& bench) {
    Desk const& desk = *bench.desk;
    UiState const& ui = desk.ui;
    double least = -1;
    auto const within = [&](double seconds) {
        double const kept = std::max(0.01, seconds);
        least = least < 0 ? kept : std::min(least, kept);
    };
    if (desk.layer.running() || ui.proposals) within(0.1);
    if (ui.tracing && ui.tracing->worker.running()) within(0.1);
    if (ui.after.plays) within(0.03);
    if (desk.cutter->running()) within(0.1);
    if (bench.pane.is_rough()) within(0.16 - (ui.now_s - ui.moved_s));
    if (!ui.message.text.empty() && ui.message.tone != MessageTone::fault) within(ui.message.until_s - ui.now_s + 0.05);
    if (is_unsaved(desk.state) && desk.kept_revision != desk.state.history.revision())
        within(std::chrono::duration<double>(kAutosaveEvery).count() - (ui.now_s - desk.kept_s) + 0.05);
    return least;
}

void write_report(Bench& bench) {
    Desk const& desk = *bench.desk;
    if (!bench.report || !desk.state.plan || bench.pane.is_rough()) return;
    bench.counts.pictures = bench.pane.pictures_drawn();
    bench.counts.picture_s = bench.pane.fine_seconds();
    std::string const now = report_json(desk, bench.counts);
    if (auto const problem = write_file(*bench.report, now))
        fmt::print(stderr, "leafwright: {}: {}\n", bench.report->string(), problem->sentence());
}

void one_frame(Bench& bench) {
    Desk& desk = *bench.desk;
    UiState& ui = desk.ui;
    ui.now_s = seconds_since(bench.start);
    if (!theme_fits(bench)) set_theme(bench);
    refresh_rows(desk);
    refresh_cutting(desk);
    refresh_proposals(desk);
    bench.window->begin_frame();
    read_keys(bench);
    show(bench);
    bench.window->end_frame();
    if (bench.counts.frames++ == 0) bench.counts.first_frame_s = seconds_since(bench.start);
    refresh_copy(desk);
    std::string const mark = is_unsaved(desk.state) ? " *" : "";
    bench.window->set_title(desk.state.history.now().name + mark + " - Leafwright");
    int& wanted = bench.window->input().frames_wanted;
    --wanted;
    bool const goes_on =
        ui.look_change || ui.laying_over.start_s || desk.state.history.revision() != desk.asked_revision;
    if (goes_on) wanted = std::max(wanted, 2);
    if (wanted <= 0) write_report(bench);
}

void close_down(Bench& bench) {
    Desk& desk = *bench.desk;
    Vec2 const size = bench.window->size();
    desk.ui.settings.window_width = static_cast<int>(size.x);
    desk.ui.settings.window_height = static_cast<int>(size.y);
    if (auto const problem = save_settings(desk.config, desk.ui.settings))
        fmt::print(stderr, "leafwright: settings were not kept: {}\n", problem->sentence());
}

} // namespace

int run_bench(BenchRequest const& request) {
    auto const start = Clock::now();
    Settings const settings = load_settings(config_folder());
    auto window = Window::open(settings.window_width, settings.window_height);
    if (!window) {
        fmt::print(stderr, "leafwright: {}\n", window.problem().sentence());
        return 2;
    }
    Bench bench;
    bench.start = start;
    bench.window = std::move(*window);
    bench.desk = make_desk(request, settings);
    bench.report = request.report;
    first_piece(*bench.desk, request);
    while (!bench.desk->ui.quit) {
        bench.window->wait(bench.window->input().frames_wanted > 0 ? 0 : idle_seconds(bench));
        one_frame(bench);
    }
    close_down(bench);
    return 0;
}

} // namespace leafwright
