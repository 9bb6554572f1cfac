package pitside.phone.look

import android.text.Editable
import android.text.InputType
import android.text.TextWatcher
import android.view.View
import android.widget.EditText
import android.widget.LinearLayout

/** A line to type in, below what it is for; `onText` hears every change. */
fun Parts.field(label: String, text: String, onText: (String) -> Unit): LinearLayout {
    val field = EditText(context).apply {
        setText(text)
        setSelection(text.length)
        isSingleLine = true
        inputType = InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_CAP_WORDS or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS
        textSize = Look.Type.BODY
        setTextColor(look.colours.ink)
        background = edged()
        minHeight = look.dp(Look.Touch.SMALL)
        textAlignment = View.TEXT_ALIGNMENT_VIEW_START
        contentDescription = label
        setPadding(look.dp(14), look.dp(10), look.dp(14), look.dp(10))
        addTextChangedListener(object : TextWatcher {
            override fun beforeTextChanged(s: CharSequence?, start: Int, count: Int, after: Int) = Unit
            override fun onTextChanged(s: CharSequence?, start: Int, before: Int, count: Int) = Unit
            override fun afterTextChanged(s: Editable) = onText(s.toString())
        })
    }
    return column().apply {
        addView(label(label).apply { importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO })
        addView(field, below(4))
    }
}
