# Shared by all pictures: the terminal asked for, and the few tones and lines they use.
# In:  format (png, svg, pdf, text), canvas_x and canvas_y (pixels; letters for text)
# The pictures read in black and white: tones differ in lightness, lines in dash and width.

is_text = format eq 'text'
set encoding utf8
if (format eq 'png') {
    set terminal pngcairo noenhanced size canvas_x, canvas_y font 'sans,11' background rgb 'white'
}
if (format eq 'svg') {
    set terminal svg noenhanced size canvas_x, canvas_y font 'sans-serif,14' background rgb 'white'
}
if (format eq 'pdf') {
    set terminal pdfcairo noenhanced size canvas_x / 110.0, canvas_y / 110.0 \
        font 'sans,10' background rgb 'white'
}
if (is_text) {
    set terminal dumb noenhanced mono size 79, 32 aspect 2
}

ink = '#1a1a1a'
soft = '#8a8a8a'
tone_frozen = '#9fb6cc'
tone_near = '#d5e0ea'
tone_unfrozen = '#f6f1e7'
hatch_ink = '#4d6a86'
concrete = '#c8c8c8'
blue = '#0a5a9c'
orange = '#b85c00'

set border lc rgb soft
set tics textcolor rgb ink nomirror out
set grid lc rgb '#dddddd' lt 1 lw 0.6
set style textbox opaque fc rgb 'white' noborder margins 0.4, 0.2

given(v) = v == v

# Title of a picture and below it the name of the site, cut to n letters; neither where the page
# around the picture says both.
second_line(n) = strlen(title_text) > 0 ? "\n".title_text[1:n] : ''
heading_of(s, n) = bare ? '' : s.second_line(n)

# A round step that divides span into about four: 1, 2 or 5 times a power of ten.
power(v) = 10 ** floor(log10(v))
round_up(v, p) = v <= p ? p : v <= 2 * p ? 2 * p : v <= 5 * p ? 5 * p : 10 * p
step_of(span) = round_up(span / 4.0, power(span / 4.0))
