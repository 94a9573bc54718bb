/* example.c - a program on the library: the lowest charge of a plan.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 *     cc example.c $(pkg-config --cflags --libs bridgedeck) -o example && ./example boat.ini
 */
#include <bridgedeck.h>
#include <stdio.h>

static void show(const struct week *week)
{
    printf("%s: lowest charge %.0f %%, generator %.1f h\n", week->boat, 100 * week->summary.min_charge,
           week->summary.generator_h);
}

int main(int argc, char **argv)
{
    struct diag_list *diags = bd_diags_new();
    struct bd_profile *profile;
    struct bd_run *run;
    enum status status = STATUS_NO_MEMORY;

    if (argc == 2 && diags && (status = bd_profile_read(&profile, argv[1], NULL, 0, diags)) == STATUS_OK) {
        if ((status = bd_week_run(&run, profile, NULL, diags)) == STATUS_OK) {
            show(bd_run_week(run));
            bd_run_free(run);
        }
        bd_profile_free(profile);
    }
    if (diags)
        bd_diags_print(stderr, diags, NULL);
    bd_diags_free(diags);
    return status == STATUS_OK ? 0 : 1;
}
