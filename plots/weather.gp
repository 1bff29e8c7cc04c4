# Daily air through the design winter, what is below freezing filled, with the mean year behind it;
# below it the snow, where there is any.
# In: $days (day, air, snow, air and snow of the mean year), most_snow, has_mean, heading; see months.gp
with_snow = most_snow > 0
canvas_x = 940
canvas_y = with_snow ? 660 : 480
load folder.'/common.gp'
load folder.'/months.gp'

set border 3
set key bmargin left horizontal Left reverse maxcols 3 samplen 4 width 2
set title heading.second_line(90) noenhanced
eval upright('daily mean air, '.degree)
set lmargin 10
set rmargin 4
set yrange [*<freezing:freezing<*]
if (with_snow) {
    if (is_text) {
        set terminal dumb noenhanced mono size 79, 50 aspect 2
        set multiplot layout 2, 1
    } else {
        set multiplot
        set size 1, 0.66
        set origin 0, 0.34
    }
}
winter_title = 'this winter'
if (is_text) {
    plot $days using 1:2 with lines title winter_title, \
         $days using 1:4 with lines title (has_mean ? 'mean year' : ''), \
         freezing with lines notitle
} else {
    plot $days using 1:(freezing):($2 < freezing ? $2 : freezing) with filledcurves \
             fc rgb tone_frozen fs solid noborder title 'below freezing', \
         $days using 1:4 with lines lc rgb orange lw 3 dt (14, 5) title (has_mean ? 'mean year' : ''), \
         $days using 1:2 with lines lc rgb ink lw 1.2 title winter_title, \
         freezing with lines lc rgb ink lw 1 notitle
}
if (with_snow) {
    unset title
    unset label
    if (!is_text) { set size 1, 0.34; set origin 0, 0 }
    eval upright('snow, '.length_unit)
    set yrange [0:most_snow * 1.15]
    set ytics step_of(most_snow * 1.15)
    if (is_text) {
        plot $days using 1:3 with lines title 'snow', \
             $days using 1:5 with lines title (has_mean ? 'snow of the mean year' : '')
    } else {
        plot $days using 1:3 with filledcurves y1=0 fc rgb tone_near fs solid border lc rgb ink lw 1.2 \
                 title 'snow', \
             $days using 1:5 with lines lc rgb orange lw 3 dt (14, 5) \
                 title (has_mean ? 'snow of the mean year' : '')
    }
    unset multiplot
}
