package pitside.phone.look

import android.content.Context
import android.view.View
import android.view.ViewGroup

/** Children in lines, as words in a text: from right to left where the language is. */
class Flow(context: Context, private val gap: Int) : ViewGroup(context) {
    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        val width = MeasureSpec.getSize(widthSpec)
        val height = place(width) { child -> child.measure(atMost(width), 0) }
        setMeasuredDimension(width, height)
    }

    override fun onLayout(changed: Boolean, left: Int, top: Int, right: Int, bottom: Int) {
        place(right - left) {}
    }

    private fun atMost(width: Int) = MeasureSpec.makeMeasureSpec(width, MeasureSpec.AT_MOST)

    /** Puts the children where they go; gives the height. */
    private fun place(width: Int, before: (View) -> Unit): Int {
        var x = 0
        var y = 0
        var line = 0
        for (at in 0 until childCount) {
            val child = getChildAt(at)
            before(child)
            if (x > 0 && x + child.measuredWidth > width) {
                x = 0
                y += line + gap
                line = 0
            }
            val from = if (layoutDirection == LAYOUT_DIRECTION_RTL) width - x - child.measuredWidth else x
            child.layout(from, y, from + child.measuredWidth, y + child.measuredHeight)
            x += child.measuredWidth + gap
            line = maxOf(line, child.measuredHeight)
        }
        return y + line
    }
}
