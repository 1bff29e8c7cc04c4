# Water and wall temperature through the winter, and below it the share of ice where there is any.
# In: $with and $without (day, water, coldest wetted wall), $with_ice and $without_ice (day,
#     percent), $limits and $ice_limits (value, text), most_ice, has_without, has_board; see months.gp.
with_ice = most_ice > 0.05
canvas_x = 940 * small
canvas_y = (with_ice ? 660 : 540) * (1 + small) / 2
load folder.'/common.gp'
load folder.'/months.gp'
run = has_board ? ', with board' : ''
set border 3
eval upright('temperature, '.degree)
set title heading_of('Water in the tank through the winter', 90) noenhanced
set key bmargin left horizontal Left reverse maxcols 2 samplen 4 width 2
set arrow 1 from first_day, freezing to last_day, freezing nohead lc rgb ink lw 1 back
do for [i = 1:|$limits|] {
    at = word($limits[i], 1) + 0
    set arrow 1 + i from first_day, at to last_day, at nohead lc rgb ink lw 1.4 dt (12, 5, 2, 5) back
    set label 1 + i word($limits[i], 2) at last_day, at right offset char -0.5, 0.6 textcolor rgb ink front
}
set yrange [*<freezing:*]
set lmargin 9
set rmargin 3
if (with_ice) {
    if (!is_text) { set multiplot } else {
        set terminal dumb noenhanced mono size 79, 50 aspect 2
        set multiplot layout 2, 1
    }
    if (!is_text) { set size 1, 0.68; set origin 0, 0.32 }
}
plot $with using 1:2 with lines lc rgb blue lw 2.4 title 'coldest water'.run, \
     $with using 1:3 with lines lc rgb blue lw 1.6 dt (3, 4) title 'coldest wetted wall'.run, \
     $without using 1:2 with lines lc rgb orange lw 2.4 dt (14, 5) \
         title (has_without ? 'coldest water, without board' : ''), \
     $without using 1:3 with lines lc rgb orange lw 1.6 dt (3, 4, 8, 4) \
         title (has_without ? 'coldest wetted wall, without board' : '')
if (with_ice) {
    unset arrow
    unset label
    unset title
    if (!is_text) { set size 1, 0.32; set origin 0, 0 }
    set key top left Left reverse inside maxrows 2
    eval upright('ice, % of the water')
    set yrange [0:most_ice * 1.5]
    set ytics step_of(most_ice * 1.5)
    do for [i = 1:|$ice_limits|] {
        at = word($ice_limits[i], 1) + 0
        if (at > 0) {
            set arrow i from first_day, at to last_day, at nohead lc rgb ink lw 1.4 dt (12, 5, 2, 5) back
        }
    }
    plot $with_ice using 1:2 with lines lc rgb blue lw 2.4 title 'ice'.run, \
         $without_ice using 1:2 with lines lc rgb orange lw 2.4 dt (14, 5) \
             title (has_without ? 'ice, without board' : '')
    unset multiplot
}
