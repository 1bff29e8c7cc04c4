# Shared by all pictures: the terminal asked for, and the few tones and lines they use.
# In:  format (png, svg, pdf, text, gif), canvas_x and canvas_y (pixels; letters for text), small: what the
#      canvas was multiplied by, letters staying
# The pictures read in black and white: tones differ in lightness, lines in dash and width.

is_text = format eq 'text'
is_gif = format eq 'gif'
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

if (is_gif) {
    set terminal gif noenhanced size canvas_x, canvas_y font 'sans,10' background rgb 'white' \
        animate delay 20 loop 0 optimize
}

ink = '#1a1a1a'
soft = '#8a8a8a'
dim = '#5a5a5a'
tone_frozen = '#9fb6cc'
tone_near = '#d5e0ea'
tone_unfrozen = '#f6f1e7'
hatch_ink = '#4d6a86'
soil_ink = '#968d7b'
concrete = '#c8c8c8'
foam = '#ece3c4'
blue = '#0a5a9c'
orange = '#b85c00'

set border lc rgb soft
set tics textcolor rgb ink nomirror out
if (is_text) { unset grid } else { set grid lc rgb '#dddddd' lt 1 lw 0.6 }   # letters drawn over letters
set style textbox opaque fc rgb 'white' noborder margins 0.4, 0.2

given(v) = v == v

# Title of a picture and below it the name of the site, cut to n letters; neither where the page
# around the picture says both.
cut_to(s, n) = strlen(s) > n ? s[1:n - 3].'...' : s
room(n) = is_text && n > 70 ? 70 : n
tail = is_text ? "\n" : ''    # room for the name of the upright axis
second_line(n) = (strlen(title_text) > 0 ? "\n".cut_to(title_text, room(n)) : '').tail
# A station's text; where it is too long, the place alone: whose data it is stands after a semicolon.
place_of(s, n) = cut_to(strlen(s) > room(n) && strstrt(s, '; ') > 1 ? s[1:strstrt(s, '; ') - 1] : s, \
    room(n))
heading_of(s, n) = bare ? '' : s.second_line(n)

# What the upright axis shows: beside it, but in letters over it, where upright words have no room.
upright(s) = is_text ? "unset ylabel; set label 90 '".s."' at graph 0, graph 1.06 left" : \
    "set ylabel '".s."'"

# A round step that divides span into about four: 1, 2 or 5 times a power of ten.
power(v) = 10 ** floor(log10(v))
round_up(v, p) = v <= p ? p : v <= 2 * p ? 2 * p : v <= 5 * p ? 5 * p : 10 * p
step_of(span) = round_up(span / 4.0, power(span / 4.0))

# The pit's outline, half after half: reach at grade, upper_half and lower_half on the shelf, pit_half.
$pit << EOD
-1 0
-1 1
-1 2
-1 3
1 3
1 2
1 1
1 0
EOD
side_x(i) = i == 0 ? reach : i == 1 ? upper_half : i == 2 ? lower_half : pit_half
side_z(i) = i == 0 ? 0 : i < 3 ? shelf : pit_bottom
