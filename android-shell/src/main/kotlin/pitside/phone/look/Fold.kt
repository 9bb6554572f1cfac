package pitside.phone.look

import android.os.Bundle
import android.text.Editable
import android.text.InputType
import android.text.TextWatcher
import android.view.Gravity
import android.view.View
import android.view.accessibility.AccessibilityNodeInfo
import android.view.accessibility.AccessibilityNodeInfo.AccessibilityAction
import android.view.inputmethod.EditorInfo
import android.widget.Button
import android.widget.EditText

/** Shows more below itself, or less; which of both is told by a sign and to the reader. */
fun Parts.folded(text: String, open: Boolean, onTap: () -> Unit): Button = plain("${if (open) "\u2212" else "+"}\u2002$text", onTap).apply {
    contentDescription = text
    gravity = Gravity.START or Gravity.CENTER_VERTICAL
    textAlignment = View.TEXT_ALIGNMENT_VIEW_START
    accessibilityDelegate = object : View.AccessibilityDelegate() {
        override fun onInitializeAccessibilityNodeInfo(host: View, info: AccessibilityNodeInfo) {
            super.onInitializeAccessibilityNodeInfo(host, info)
            info.addAction(if (open) AccessibilityAction.ACTION_COLLAPSE else AccessibilityAction.ACTION_EXPAND)
        }

        override fun performAccessibilityAction(host: View, action: Int, arguments: Bundle?): Boolean {
            val asked = if (open) AccessibilityNodeInfo.ACTION_COLLAPSE else AccessibilityNodeInfo.ACTION_EXPAND
            return if (action == asked) host.performClick() else super.performAccessibilityAction(host, action, arguments)
        }
    }
}

/** A record that leads on: the whole row is touched. */
fun Parts.leading(row: View, onTap: () -> Unit): View = row.apply {
    minimumHeight = look.dp(Look.Touch.SMALL)
    isClickable = true
    setOnClickListener { onTap() }
    background = surface(look.colours.raised, look.colours.edge, look.colours.ink)
    setPadding(look.dp(12), look.dp(12), look.dp(12), look.dp(12))
}

/** A line to search with; `onText` hears every change. */
fun Parts.search(hint: String, text: String, onText: (String) -> Unit): EditText = EditText(column().context).apply {
    this.hint = hint
    setText(text)
    inputType = InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS
    imeOptions = EditorInfo.IME_ACTION_SEARCH
    textSize = Look.Type.BODY
    minHeight = look.dp(Look.Touch.SMALL)
    textAlignment = View.TEXT_ALIGNMENT_VIEW_START
    setTextColor(look.colours.ink)
    setHintTextColor(look.colours.soft)
    // The line below it, the theme's, is too thin to be seen in the sun.
    if (look.high) {
        background = edged()
        setPadding(look.dp(14), look.dp(10), look.dp(14), look.dp(10))
    }
    addTextChangedListener(object : TextWatcher {
        override fun beforeTextChanged(s: CharSequence?, start: Int, count: Int, after: Int) = Unit
        override fun onTextChanged(s: CharSequence?, start: Int, before: Int, count: Int) = Unit
        override fun afterTextChanged(s: Editable) = onText(s.toString())
    })
}
