// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/icons.h"
#include "ui/theme/paper_style.h"

#include <QStyleOption>
#include <QWidget>

#include <algorithm>

namespace milehold::ui {

namespace {

QRect scrollBarRect(const QStyleOptionSlider& option, QStyle::SubControl sub) {
    const QRect rect = option.rect;
    const bool across = option.orientation == Qt::Horizontal;
    const int length = across ? rect.width() : rect.height();
    int thumb = length;
    int start = 0;
    if (option.maximum > option.minimum) {
        const qint64 range = qint64(option.maximum) - option.minimum;
        thumb = static_cast<int>(qint64(option.pageStep) * length / (range + std::max(1, option.pageStep)));
        thumb = std::clamp(thumb, std::min(32, length), length);
        start = QStyle::sliderPositionFromValue(option.minimum, option.maximum, option.sliderPosition,
                                                length - thumb, option.upsideDown);
    }
    const auto part = [&](int from, int size) {
        return across ? QRect(rect.left() + from, rect.top(), size, rect.height())
                      : QRect(rect.left(), rect.top() + from, rect.width(), size);
    };
    switch (sub) {
    case QStyle::SC_ScrollBarSlider:
        return part(start, thumb);
    case QStyle::SC_ScrollBarSubPage:
        return part(0, start);
    case QStyle::SC_ScrollBarAddPage:
        return part(start + thumb, length - start - thumb);
    case QStyle::SC_ScrollBarGroove:
        return rect;
    default:
        return {};
    }
}

} // namespace

QRect PaperStyle::subControlRect(ComplexControl control, const QStyleOptionComplex* option, SubControl sub,
                                 const QWidget* widget) const {
    const QRect r = option->rect;
    if (control == CC_ScrollBar) {
        if (const auto* bar = qstyleoption_cast<const QStyleOptionSlider*>(option)) {
            return visualRect(bar->direction, r, scrollBarRect(*bar, sub));
        }
    }
    if (control == CC_ComboBox) {
        switch (sub) {
        case SC_ComboBoxEditField:
            return visualRect(option->direction, r, r.adjusted(8, 2, -28, -2));
        case SC_ComboBoxArrow:
            return visualRect(option->direction, r, QRect(r.right() - 27, r.top(), 28, r.height()));
        default:
            break;
        }
    }
    if (control == CC_SpinBox) {
        const auto* spin = qstyleoption_cast<const QStyleOptionSpinBox*>(option);
        const bool buttons = spin && spin->buttonSymbols != QAbstractSpinBox::NoButtons;
        const int w = buttons ? 24 : 0;
        const int half = r.height() / 2;
        switch (sub) {
        case SC_SpinBoxEditField:
            return visualRect(option->direction, r, r.adjusted(6, 2, -w - 4, -2));
        case SC_SpinBoxUp:
            return buttons ? visualRect(option->direction, r, QRect(r.right() - w, r.top() + 2, w, half - 2))
                           : QRect();
        case SC_SpinBoxDown:
            return buttons ? visualRect(option->direction, r,
                                        QRect(r.right() - w, r.top() + half, w, r.height() - half - 2))
                           : QRect();
        default:
            return r;
        }
    }
    if (control == CC_GroupBox) {
        if (const auto* group = qstyleoption_cast<const QStyleOptionGroupBox*>(option)) {
            const bool check = group->subControls & SC_GroupBoxCheckBox;
            const int left = check ? 26 : 0;
            switch (sub) {
            case SC_GroupBoxCheckBox:
                return visualRect(option->direction, r, QRect(r.left() + 2, r.top() + 2, 20, 20));
            case SC_GroupBoxLabel: {
                QFont font = widget ? widget->font() : QFont();
                font.setWeight(QFont::DemiBold);
                const int width = QFontMetrics(font).size(Qt::TextShowMnemonic, group->text).width();
                return group->text.isEmpty()
                           ? QRect()
                           : visualRect(option->direction, r, QRect(r.left() + left, r.top(), width + 4, 24));
            }
            case SC_GroupBoxContents:
                return r.adjusted(0, group->text.isEmpty() && !check ? 8 : 28, 0, 0);
            default:
                return r;
            }
        }
    }
    return QProxyStyle::subControlRect(control, option, sub, widget);
}

QRect PaperStyle::subElementRect(SubElement element, const QStyleOption* option,
                                 const QWidget* widget) const {
    switch (element) {
    case SE_LineEditContents:
        if (const auto* frame = qstyleoption_cast<const QStyleOptionFrame*>(option);
            frame && frame->lineWidth > 0) {
            return option->rect.adjusted(7, 2, -7, -2);
        }
        return option->rect;
    case SE_ProgressBarContents:
    case SE_ProgressBarGroove:
        return option->rect;
    case SE_PushButtonFocusRect:
    case SE_PushButtonContents:
        return option->rect;
    default:
        return QProxyStyle::subElementRect(element, option, widget);
    }
}

int PaperStyle::pixelMetric(PixelMetric metric, const QStyleOption* option, const QWidget* widget) const {
    switch (metric) {
    case PM_LayoutLeftMargin:
    case PM_LayoutTopMargin:
    case PM_LayoutRightMargin:
    case PM_LayoutBottomMargin:
        return kGap;
    case PM_LayoutHorizontalSpacing:
    case PM_LayoutVerticalSpacing:
        return kGrid;
    case PM_ScrollBarExtent:
        return 12;
    case PM_ScrollBarSliderMin:
        return 32;
    case PM_ScrollView_ScrollBarSpacing:
        return 0;
    case PM_IndicatorWidth:
    case PM_IndicatorHeight:
    case PM_ExclusiveIndicatorWidth:
    case PM_ExclusiveIndicatorHeight:
        return 24; // an 18 pixel mark and its focus ring
    case PM_CheckBoxLabelSpacing:
    case PM_RadioButtonLabelSpacing:
        return 6;
    case PM_ButtonShiftHorizontal:
    case PM_ButtonShiftVertical:
    case PM_TabBarTabShiftVertical:
    case PM_TabBarTabShiftHorizontal:
    case PM_TabBarTabOverlap:
    case PM_TabBarBaseOverlap:
        return 0;
    case PM_TabBarTabHSpace:
        return 2 * kGap;
    case PM_TabBarTabVSpace:
        return kGap;
    case PM_DefaultFrameWidth:
        // Wide enough that the text's own ground does not cover the round corners.
        return widget && (widget->inherits("QTextEdit") || widget->inherits("QPlainTextEdit")) ? 3 : 1;
    case PM_FocusFrameHMargin:
    case PM_FocusFrameVMargin:
        return 2;
    case PM_SmallIconSize:
    case PM_ButtonIconSize:
    case PM_ToolBarIconSize:
    case PM_TabBarIconSize:
    case PM_ListViewIconSize:
        return kIconSize;
    case PM_MessageBoxIconSize:
        return 40;
    case PM_SplitterWidth:
        return 9;
    case PM_MenuPanelWidth:
        return 1;
    case PM_MenuVMargin:
        return kHalf;
    case PM_MenuHMargin:
        return 0;
    case PM_ToolTipLabelFrameWidth:
        return 6;
    case PM_HeaderMargin:
        return 6;
    case PM_HeaderMarkSize:
        return 14;
    case PM_HeaderDefaultSectionSizeVertical:
        return kRowHeight;
    default:
        return QProxyStyle::pixelMetric(metric, option, widget);
    }
}

QIcon PaperStyle::standardIcon(StandardPixmap pixmap, const QStyleOption* option,
                               const QWidget* widget) const {
    switch (pixmap) {
    case SP_MessageBoxWarning:
        return icon(QStringLiteral("warning"), IconTone::Amber);
    case SP_MessageBoxCritical:
        return icon(QStringLiteral("error"), IconTone::Danger);
    case SP_MessageBoxInformation:
        return icon(QStringLiteral("info"), IconTone::Accent);
    case SP_MessageBoxQuestion:
        return icon(QStringLiteral("help"), IconTone::Accent);
    case SP_ArrowLeft:
    case SP_ArrowBack:
        return icon(QStringLiteral("chevron-left"));
    case SP_ArrowRight:
    case SP_ArrowForward:
        return icon(QStringLiteral("chevron-right"));
    case SP_ArrowUp:
    case SP_FileDialogToParent:
        return icon(QStringLiteral("chevron-up"));
    case SP_ArrowDown:
        return icon(QStringLiteral("chevron-down"));
    case SP_LineEditClearButton:
    case SP_DialogCloseButton:
        return icon(QStringLiteral("close"));
    case SP_DirIcon:
    case SP_DirOpenIcon:
    case SP_DirClosedIcon:
    case SP_DirHomeIcon:
        return icon(QStringLiteral("open"));
    case SP_FileIcon:
        return icon(QStringLiteral("note"));
    case SP_DriveHDIcon:
    case SP_DriveNetIcon:
        return icon(QStringLiteral("backup"));
    case SP_ComputerIcon:
    case SP_DesktopIcon:
        return icon(QStringLiteral("station"));
    case SP_FileDialogNewFolder:
        return icon(QStringLiteral("add"));
    case SP_FileDialogListView:
        return icon(QStringLiteral("more"));
    case SP_FileDialogDetailedView:
        return icon(QStringLiteral("sort"));
    case SP_ToolBarHorizontalExtensionButton:
        return icon(QStringLiteral("more"));
    default:
        return QProxyStyle::standardIcon(pixmap, option, widget);
    }
}

int PaperStyle::styleHint(StyleHint hint, const QStyleOption* option, const QWidget* widget,
                          QStyleHintReturn* data) const {
    switch (hint) {
    case SH_EtchDisabledText:
    case SH_DitherDisabledText:
    case SH_DialogButtonBox_ButtonsHaveIcons:
    case SH_ComboBox_Popup:
    case SH_Menu_SloppySubMenus:
    case SH_UnderlineShortcut:
        return hint == SH_UnderlineShortcut ? 1 : hint == SH_Menu_SloppySubMenus ? 1 : 0;
    case SH_ItemView_ShowDecorationSelected:
        return 1;
    case SH_ScrollBar_LeftClickAbsolutePosition:
        return 0;
    case SH_Table_GridLineColor:
        return static_cast<int>(tokens_.hairline.rgb());
    case SH_Header_ArrowAlignment:
        return Qt::AlignRight | Qt::AlignVCenter;
    case SH_TabBar_Alignment:
        return Qt::AlignLeft;
    case SH_ToolTipLabel_Opacity:
        return 255;
    case SH_Widget_Animate:
    case SH_Widget_Animation_Duration:
        return 0;
    default:
        return QProxyStyle::styleHint(hint, option, widget, data);
    }
}

QSize PaperStyle::sizeFromContents(ContentsType type, const QStyleOption* option, const QSize& contents,
                                   const QWidget* widget) const {
    QSize size = QProxyStyle::sizeFromContents(type, option, contents, widget);
    switch (type) {
    case CT_PushButton:
        size.setHeight(std::max(size.height(), kControlHeight));
        if (const auto* button = qstyleoption_cast<const QStyleOptionButton*>(option)) {
            QFont font = widget ? widget->font() : QFont();
            font.setWeight(QFont::Medium);
            int width = QFontMetrics(font).size(Qt::TextShowMnemonic, button->text).width() + 2 * kGap;
            if (!button->icon.isNull())
                width += button->iconSize.width() + (button->text.isEmpty() ? 0 : kGrid) - kGrid;
            if (button->features & QStyleOptionButton::HasMenu)
                width += 16;
            size.setWidth(button->text.isEmpty() ? std::max(width, kControlHeight) : std::max(width, 72));
        }
        return size;
    case CT_LineEdit:
    case CT_SpinBox:
    case CT_ComboBox: {
        // One height for all one-line fields, unless somebody set a larger font.
        const int line = (widget ? widget->fontMetrics() : QFontMetrics(QFont())).height();
        return {size.width() + (type == CT_ComboBox ? kGrid : 0), std::max(kControlHeight, line + 14)};
    }
    case CT_ToolButton:
        size = contents + QSize(12, 12);
        if (const auto* tool = qstyleoption_cast<const QStyleOptionToolButton*>(option);
            tool && (tool->features & QStyleOptionToolButton::HasMenu) &&
            tool->toolButtonStyle != Qt::ToolButtonIconOnly) {
            size.rwidth() += 20;
        }
        return {size.width(), std::max(size.height(), kControlHeight)};
    case CT_CheckBox:
    case CT_RadioButton:
        return {size.width(), std::max(size.height(), 28)};
    case CT_TabBarTab:
        return {size.width() + 8, std::max(size.height(), 40)};
    case CT_MenuItem: {
        const auto* item = qstyleoption_cast<const QStyleOptionMenuItem*>(option);
        if (item && item->menuItemType == QStyleOptionMenuItem::Separator)
            return {size.width(), 9};
        return {size.width() + kIconSize + kGap, std::max(size.height(), 34)};
    }
    case CT_MenuBarItem:
        return {contents.width() + kGap, kControlHeight};
    case CT_HeaderSection:
        return {size.width() + kGrid, std::max(size.height(), kControlHeight)};
    case CT_ItemViewItem:
        return {size.width() + kGap, std::max(size.height(), 32)};
    case CT_ProgressBar:
        return {size.width(), kGrid};
    default:
        return size;
    }
}

} // namespace milehold::ui
