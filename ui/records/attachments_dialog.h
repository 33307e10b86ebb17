// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"

#include <QDialog>

#include <vector>

class QLabel;
class QPushButton;

namespace milehold::ui {

class RecordTable;

/// The photos, sounds and pages of one job: add by button or by dropping files here, look at one, remove one.
class AttachmentsDialog : public QDialog {
    Q_OBJECT
public:
    AttachmentsDialog(const QString& jobTitle, QWidget* parent = nullptr);

    void setAttachments(const std::vector<core::Attachment>& attachments);
    /// A sentence under the list: what was added, or why it was not.
    void say(const QString& sentence, bool isTrouble = false);
    /// What the dialog calls a kind of file: `Photo`, `Sound`, `Film`, `Page`.
    static QString kindWord(const std::string& kind);

signals:
    void addWanted();
    void filesDropped(const QStringList& paths);
    void openWanted(milehold::core::AttachmentId id);
    void removeWanted(milehold::core::AttachmentId id);

protected:
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dropEvent(QDropEvent* event) override;

private:
    std::optional<core::AttachmentId> chosen() const;

    std::vector<core::Attachment> attachments_;
    RecordTable* table_;
    QLabel* sentence_;
    QPushButton* open_;
    QPushButton* remove_;
};

} // namespace milehold::ui
