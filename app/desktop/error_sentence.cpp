// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/error_sentence.h"

#include "storage/offline.h"

#include <QCoreApplication>
#include <QUrl>

namespace milehold::app {

namespace {
QString tr(const char* text) {
    return QCoreApplication::translate("ErrorSentence", text);
}
QString withDetail(const QString& sentence, const core::Error& error) {
    return error.detail.empty()
               ? sentence
               : sentence + QStringLiteral(" (%1)").arg(QString::fromStdString(error.detail));
}
} // namespace

QString sentenceForOpening(const core::Error& error, const QString& where) {
    // A password that was typed into the address is on no screen.
    const QString place = where.contains(QStringLiteral("://"))
                              ? QUrl(where).toDisplayString(QUrl::RemovePassword | QUrl::PrettyDecoded)
                              : where;
    if (storage::isOffline(error))
        return withDetail(
            tr("The server at %1 does not answer. Look whether it runs, whether this machine is on "
               "its network, and whether the address is right; then connect again.")
                .arg(place),
            error);
    switch (error.code) {
    case core::ErrorCode::NotFound:
        return withDetail(
            tr("There is no shop at %1. Was its folder moved, or is its disk not connected? Open it "
               "where it lies now.")
                .arg(place),
            error);
    case core::ErrorCode::ReadOnly:
        return withDetail(
            tr("%1 cannot be opened: whoever is signed in here may not write there.").arg(place), error);
    case core::ErrorCode::DiskProblem:
        return withDetail(tr("%1 cannot be opened: its disk is full or does not answer.").arg(place), error);
    case core::ErrorCode::InvalidInput:
    case core::ErrorCode::Unsupported:
        return withDetail(tr("%1 cannot be opened.").arg(place), error);
    default:
        return sentenceFor(error);
    }
}

QString sentenceFor(const core::Error& error) {
    switch (error.code) {
    case core::ErrorCode::InvalidInput:
        return withDetail(tr("Not saved: something in the form needs correcting."), error);
    case core::ErrorCode::NotFound:
        return withDetail(tr("This is no longer there. The list is being read again."), error);
    case core::ErrorCode::Conflict:
        return tr("Not saved: somebody else changed this record in the meantime. What you typed is kept; "
                  "open the record again to compare.");
    case core::ErrorCode::NotEstimable:
        return withDetail(tr("The records do not carry this figure yet."), error);
    case core::ErrorCode::NoConvergence:
        return withDetail(tr("This figure could not be worked out."), error);
    case core::ErrorCode::Unreadable:
        return withDetail(tr("The shop's file is damaged. Nothing was changed in it, and its backups can "
                             "be brought back."),
                          error);
    case core::ErrorCode::NotAShop:
        return withDetail(
            tr("This is not a shop of Milehold. A folder whose name ends in .milehold was expected."), error);
    case core::ErrorCode::TooNew:
        return withDetail(tr("This shop was written by a newer Milehold. Update this program to open it; "
                             "nothing was changed."),
                          error);
    case core::ErrorCode::InUse:
        return withDetail(tr("This shop is already open in another window or on another machine."), error);
    case core::ErrorCode::ReadOnly:
        return withDetail(tr("Not saved: this shop may only be read here."), error);
    case core::ErrorCode::DiskProblem:
        return withDetail(
            tr("Not saved: the disk is full or does not answer. What you typed is kept; free some "
               "space and save again."),
            error);
    case core::ErrorCode::Offline:
        return withDetail(
            tr("The server does not answer, so that nothing was saved. What you typed is kept here; "
               "save again when the connection is back."),
            error);
    case core::ErrorCode::GivenUp:
        return withDetail(
            tr("Not saved: others were saving at the same moment. What you typed is kept; save again."),
            error);
    case core::ErrorCode::OutcomeUnknown:
        return tr(
            "The save was cut off, and it is not yet known whether it arrived. Open the record again before "
            "you save a second time.");
    case core::ErrorCode::Unsupported:
        return withDetail(tr("This is not possible here."), error);
    case core::ErrorCode::Internal:
        break;
    }
    return withDetail(tr("Something went wrong inside Milehold. What is saved is safe."), error);
}

} // namespace milehold::app
