// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/draft_keeper.h"

#include "storage/shop.h"

namespace milehold::app {
namespace {
constexpr int kBetweenMs = 500;
}

DraftKeeper::DraftKeeper(Database& database, QObject* parent) : QObject(parent), database_(database) {
    timer_.setSingleShot(true);
    connect(&timer_, &QTimer::timeout, this, &DraftKeeper::keep);
}

void DraftKeeper::watch(const std::string& form, std::function<std::string()> text) {
    leave();
    form_ = form;
    text_ = std::move(text);
    last_.clear();
    since_.invalidate();
}

void DraftKeeper::touch() {
    if (form_.empty() || timer_.isActive())
        return;
    // The first keystroke after a rest is kept at once, the others together.
    const bool rested = !since_.isValid() || since_.hasExpired(kBetweenMs);
    timer_.start(rested ? 0 : kBetweenMs - static_cast<int>(since_.elapsed()));
}

void DraftKeeper::flush() {
    if (timer_.isActive()) {
        timer_.stop();
        keep();
    }
}

void DraftKeeper::keep() {
    if (form_.empty() || !text_)
        return;
    since_.start();
    const std::string text = text_();
    if (text == last_)
        return;
    last_ = text;
    database_.ask(
        this,
        [form = form_, text](storage::Shop& shop) {
            return text.empty() ? shop.drafts().drop(form) : shop.drafts().keep(form, text);
        },
        [this](core::Result<void> outcome) {
            if (!outcome) {
                last_.clear(); // so that the next keystroke tries again
                emit failed(outcome.error());
            }
        });
}

void DraftKeeper::leave() {
    flush();
    form_.clear();
    text_ = nullptr;
}

void DraftKeeper::drop() {
    timer_.stop();
    if (!form_.empty())
        dropForm(form_);
    form_.clear();
    text_ = nullptr;
}

void DraftKeeper::dropForm(const std::string& form) {
    database_.ask(
        this, [form](storage::Shop& shop) { return shop.drafts().drop(form); },
        [this](core::Result<void> outcome) {
            if (!outcome)
                emit failed(outcome.error());
        });
}

} // namespace milehold::app
