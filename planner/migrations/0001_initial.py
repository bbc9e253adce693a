"""Every noun of a site, as one first step."""

import django.contrib.auth.models
import django.contrib.auth.validators
import django.core.validators
import django.db.models.deletion
import django.utils.timezone
import planner.domain.injury
import planner.domain.states.part
import planner.domain.states.plan
import planner.domain.states.plan_build
import planner.domain.states.stage_run
import planner.domain.states.tyre
import planner.domain.states.work_order
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("auth", "0012_alter_user_first_name_max_length"),
    ]

    operations = [
        migrations.CreateModel(
            name="CureFigure",
            fields=[
                ("inputs_sha256", models.CharField(max_length=64, primary_key=True, serialize=False)),
                ("figures", models.JSONField()),
            ],
        ),
        migrations.CreateModel(
            name="User",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("password", models.CharField(max_length=128, verbose_name="password")),
                ("last_login", models.DateTimeField(blank=True, null=True, verbose_name="last login")),
                (
                    "is_superuser",
                    models.BooleanField(
                        default=False,
                        help_text="Designates that this user has all permissions without explicitly assigning them.",
                        verbose_name="superuser status",
                    ),
                ),
                (
                    "username",
                    models.CharField(
                        error_messages={"unique": "A user with that username already exists."},
                        help_text="Required. 150 characters or fewer. Letters, digits and @/./+/-/_ only.",
                        max_length=150,
                        unique=True,
                        validators=[django.contrib.auth.validators.UnicodeUsernameValidator()],
                        verbose_name="username",
                    ),
                ),
                ("first_name", models.CharField(blank=True, max_length=150, verbose_name="first name")),
                ("last_name", models.CharField(blank=True, max_length=150, verbose_name="last name")),
                ("email", models.EmailField(blank=True, max_length=254, verbose_name="email address")),
                (
                    "is_staff",
                    models.BooleanField(
                        default=False,
                        help_text="Designates whether the user can log into this admin site.",
                        verbose_name="staff status",
                    ),
                ),
                (
                    "is_active",
                    models.BooleanField(
                        default=True,
                        help_text="Designates whether this user should be treated as active. Unselect this instead of deleting accounts.",
                        verbose_name="active",
                    ),
                ),
                (
                    "date_joined",
                    models.DateTimeField(default=django.utils.timezone.now, verbose_name="date joined"),
                ),
                (
                    "groups",
                    models.ManyToManyField(
                        blank=True,
                        help_text="The groups this user belongs to. A user will get all permissions granted to each of their groups.",
                        related_name="user_set",
                        related_query_name="user",
                        to="auth.group",
                        verbose_name="groups",
                    ),
                ),
                (
                    "user_permissions",
                    models.ManyToManyField(
                        blank=True,
                        help_text="Specific permissions for this user.",
                        related_name="user_set",
                        related_query_name="user",
                        to="auth.permission",
                        verbose_name="user permissions",
                    ),
                ),
            ],
            options={
                "verbose_name": "user",
                "verbose_name_plural": "users",
                "abstract": False,
            },
            managers=[
                ("objects", django.contrib.auth.models.UserManager()),
            ],
        ),
        migrations.CreateModel(
            name="Site",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("code", models.SlugField(max_length=40, unique=True)),
                ("name", models.CharField(max_length=120)),
                ("time_zone", models.CharField(max_length=64)),
                ("currency", models.CharField(max_length=3)),
                ("language", models.CharField(default="en", max_length=10)),
                ("temperature_unit", models.CharField(default="°C", max_length=4)),
                ("pressure_unit", models.CharField(default="kPa", max_length=4)),
                (
                    "grid_minutes",
                    models.PositiveSmallIntegerField(
                        default=5,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(60),
                        ],
                    ),
                ),
                (
                    "cures_per_attendant",
                    models.PositiveSmallIntegerField(
                        default=2, validators=[django.core.validators.MinValueValidator(1)]
                    ),
                ),
                ("watch_skill", models.SlugField(default="cure", max_length=40)),
                ("attendant_may_work", models.BooleanField(default=True)),
                ("watch_through_breaks", models.BooleanField(default=False)),
                ("watch_cool_down", models.BooleanField(default=True)),
                ("handover_allowed", models.BooleanField(default=True)),
                (
                    "power_limit_kw",
                    models.DecimalField(blank=True, decimal_places=2, max_digits=8, null=True),
                ),
                ("channel_limit", models.PositiveSmallIntegerField(blank=True, null=True)),
                (
                    "horizon_days",
                    models.PositiveSmallIntegerField(
                        default=7,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(60),
                        ],
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
            ],
            options={
                "ordering": ("name",),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("grid_minutes__gte", 1), ("grid_minutes__lte", 60)),
                        name="site_grid_1_to_60",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("cures_per_attendant__gte", 1)),
                        name="site_one_cure_each_at_least",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("temperature_unit__in", ["°C", "°F"])),
                        name="site_temperature_unit",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("pressure_unit__in", ["kPa", "psi", "bar"])),
                        name="site_pressure_unit",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HeaterSet",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("code", models.SlugField(max_length=40)),
                ("name", models.CharField(max_length=120)),
                (
                    "channels",
                    models.PositiveSmallIntegerField(help_text="controller outlets taken while energised"),
                ),
                (
                    "power_kw",
                    models.DecimalField(
                        decimal_places=2,
                        max_digits=7,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                ("turnaround_minutes", models.PositiveSmallIntegerField(default=0)),
                ("active", models.BooleanField(default=True)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "code"), name="heater_set_code_on_site"),
                    models.CheckConstraint(
                        condition=models.Q(("power_kw__gte", 0)), name="heater_set_power_not_negative"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Material",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("code", models.SlugField(max_length=40)),
                ("name", models.CharField(max_length=120)),
                ("unit", models.CharField(default="kg", max_length=8)),
                (
                    "least_stock",
                    models.DecimalField(
                        decimal_places=3,
                        default=0,
                        max_digits=9,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                ("storage", models.CharField(blank=True, help_text="as the maker asks", max_length=120)),
                (
                    "reference_c",
                    models.FloatField(blank=True, help_text="of the maker's figures [°C]", null=True),
                ),
                (
                    "t90_min",
                    models.FloatField(blank=True, help_text="at the reference temperature [min]", null=True),
                ),
                ("scorch_min", models.FloatField(blank=True, help_text="[min]", null=True)),
                (
                    "reversion_min",
                    models.FloatField(blank=True, help_text="equivalent minutes it bears [min]", null=True),
                ),
                ("reversion_c", models.FloatField(blank=True, help_text="[°C]", null=True)),
                ("activation_energy_j_mol", models.FloatField(blank=True, help_text="[J/mol]", null=True)),
                (
                    "ten_degree_factor",
                    models.FloatField(blank=True, help_text="where no energy is given [-]", null=True),
                ),
                ("conductivity_w_mk", models.FloatField(blank=True, help_text="[W/mK]", null=True)),
                ("density_kg_m3", models.FloatField(blank=True, help_text="[kg/m3]", null=True)),
                ("heat_capacity_j_kgk", models.FloatField(blank=True, help_text="[J/kgK]", null=True)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "code"), name="material_code_on_site")
                ],
            },
        ),
        migrations.CreateModel(
            name="PlanBuild",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("queued", "queued"),
                            ("running", "running"),
                            ("done", "done"),
                            ("cancelled", "cancelled"),
                            ("failed", "failed"),
                        ],
                        default=planner.domain.states.plan_build.PlanBuildState["QUEUED"],
                        max_length=12,
                    ),
                ),
                ("requested_at", models.DateTimeField()),
                ("horizon_start", models.DateTimeField()),
                ("horizon_end", models.DateTimeField()),
                (
                    "seconds",
                    models.PositiveSmallIntegerField(
                        default=30,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(3600),
                        ],
                    ),
                ),
                ("seed", models.PositiveIntegerField(default=0)),
                (
                    "stability",
                    models.PositiveSmallIntegerField(
                        blank=True,
                        help_text="around the published plan: what a moved minute costs, in hundredths of a late one",
                        null=True,
                        validators=[django.core.validators.MaxValueValidator(100)],
                    ),
                ),
                ("phase", models.CharField(blank=True, max_length=60)),
                ("lateness", models.BigIntegerField(blank=True, null=True)),
                ("flow", models.BigIntegerField(blank=True, null=True)),
                ("bound", models.BigIntegerField(default=0)),
                (
                    "weight",
                    models.PositiveIntegerField(
                        default=0, help_text="of all tyres together; 0 until the site is read"
                    ),
                ),
                ("elapsed_seconds", models.FloatField(default=0)),
                ("progress_at", models.DateTimeField(blank=True, null=True)),
                (
                    "curve",
                    models.JSONField(
                        blank=True, default=list, help_text="[seconds, lateness, bound] as they came"
                    ),
                ),
                ("cancel_requested", models.BooleanField(default=False)),
                (
                    "message",
                    models.TextField(blank=True, help_text="what went wrong, or what the site should know"),
                ),
                ("started_at", models.DateTimeField(blank=True, null=True)),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                (
                    "requested_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("-requested_at", "-pk"),
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("state__in", ["queued", "running"])),
                        fields=("site",),
                        name="plan_build_one_at_a_time",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("horizon_end__gt", models.F("horizon_start"))),
                        name="plan_build_ends_after_it_starts",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("state__in", ["queued", "running", "done", "cancelled", "failed"])
                        ),
                        name="plan_build_state",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="PositionKind",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("code", models.SlugField(max_length=40)),
                ("name", models.CharField(max_length=120)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "code"), name="position_kind_code_on_site")
                ],
            },
        ),
        migrations.CreateModel(
            name="Machine",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("code", models.SlugField(max_length=40)),
                ("name", models.CharField(max_length=120)),
                ("kind", models.CharField(max_length=60)),
                ("tyre_size", models.CharField(blank=True, max_length=24)),
                (
                    "priority",
                    models.PositiveSmallIntegerField(
                        default=10,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(100),
                        ],
                    ),
                ),
                (
                    "hours_run",
                    models.PositiveIntegerField(default=0, help_text="of the machine's own meter [h]"),
                ),
                ("active", models.BooleanField(default=True)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "code"), name="machine_code_on_site"),
                    models.CheckConstraint(
                        condition=models.Q(("priority__gte", 1), ("priority__lte", 100)),
                        name="machine_priority_1_to_100",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="LoggerColumns",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("logger", models.CharField(max_length=60)),
                ("columns", models.JSONField()),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("logger",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "logger"), name="logger_columns_on_site")
                ],
            },
        ),
        migrations.CreateModel(
            name="Isolation",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("starts_at", models.DateTimeField()),
                ("ends_at", models.DateTimeField()),
                ("reason", models.CharField(max_length=200)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("starts_at",),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("ends_at__gt", models.F("starts_at"))),
                        name="isolation_ends_after_it_starts",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="CostStock",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("size", models.CharField(help_text="the normal form, such as 27.00R49", max_length=24)),
                ("on_hand", models.PositiveSmallIntegerField(default=0)),
                ("promised", models.PositiveSmallIntegerField(default=0)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("size",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "size"), name="cost_stock_one_for_a_size")
                ],
            },
        ),
        migrations.CreateModel(
            name="CostRate",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("kind", models.CharField(choices=[("tax", "tax"), ("exchange", "exchange")], max_length=10)),
                (
                    "name",
                    models.CharField(
                        help_text="the tax, or the foreign currency's three letters", max_length=40
                    ),
                ),
                (
                    "rate",
                    models.DecimalField(
                        decimal_places=6,
                        max_digits=14,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                ("effective_from", models.DateField()),
                ("source", models.CharField(max_length=200)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("kind", "name", "-effective_from"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("site", "kind", "name", "effective_from"), name="cost_rate_one_from_a_day"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rate__gte", 0)), name="cost_rate_not_negative"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="CostPrice",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("labour", "labour"),
                            ("materials", "materials"),
                            ("energy", "energy"),
                            ("heater set", "heater set"),
                            ("bay overhead", "bay overhead"),
                            ("transport", "transport"),
                            ("inspection", "inspection"),
                            ("disposal", "disposal"),
                            ("buy new", "buy new"),
                            ("retread", "retread"),
                            ("send out", "send out"),
                        ],
                        max_length=20,
                    ),
                ),
                (
                    "item",
                    models.CharField(help_text="grade, material, heater set or tyre size", max_length=60),
                ),
                ("unit", models.CharField(max_length=20)),
                (
                    "amount",
                    models.DecimalField(
                        decimal_places=4,
                        max_digits=14,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                ("currency", models.CharField(max_length=3)),
                (
                    "loading",
                    models.DecimalField(
                        decimal_places=4,
                        default=0,
                        help_text="share of labour",
                        max_digits=6,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                (
                    "overtime_factor",
                    models.DecimalField(
                        decimal_places=3,
                        default=1,
                        max_digits=5,
                        validators=[django.core.validators.MinValueValidator(1)],
                    ),
                ),
                ("effective_from", models.DateField()),
                ("source", models.CharField(max_length=200)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("kind", "item", "-effective_from"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("site", "kind", "item", "effective_from"), name="cost_price_one_from_a_day"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("amount__gte", 0), ("loading__gte", 0), ("overtime_factor__gte", 1)
                        ),
                        name="cost_price_not_negative",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="CostPeriod",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("month", models.DateField(help_text="its first day")),
                ("closed_at", models.DateTimeField(auto_now_add=True)),
                (
                    "closed_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("-month",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "month"), name="cost_period_closed_once"),
                    models.CheckConstraint(
                        condition=models.Q(("month__day", 1)), name="cost_period_is_a_month"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="CostOutcome",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("serial", models.CharField(max_length=40)),
                (
                    "zone",
                    models.CharField(
                        choices=[
                            ("crown", "crown"),
                            ("shoulder", "shoulder"),
                            ("sidewall", "sidewall"),
                            ("bead", "bead"),
                        ],
                        max_length=12,
                    ),
                ),
                ("size_class", models.SlugField(help_text="the code of the size class", max_length=40)),
                ("repaired_on", models.DateField()),
                (
                    "hours",
                    models.DecimalField(
                        decimal_places=1,
                        max_digits=9,
                        validators=[django.core.validators.MinValueValidator(1)],
                    ),
                ),
                (
                    "distance_km",
                    models.DecimalField(
                        blank=True,
                        decimal_places=1,
                        max_digits=10,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(1)],
                    ),
                ),
                ("failed", models.BooleanField(help_text="the repair ended its life")),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("repaired_on", "serial"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("site", "serial", "zone", "repaired_on"),
                        name="cost_outcome_once_for_a_repair",
                    ),
                    models.CheckConstraint(condition=models.Q(("hours__gte", 1)), name="cost_outcome_ran"),
                    models.CheckConstraint(
                        condition=models.Q(("zone__in", ["crown", "shoulder", "sidewall", "bead"])),
                        name="cost_outcome_zone",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="CostAssumption",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "name",
                    models.CharField(
                        choices=[
                            ("discount rate", "discount rate"),
                            ("running hours a year", "running hours a year"),
                            ("cost of an hour's waiting", "cost of an hour's waiting"),
                            ("odds that a repair fails", "odds that a repair fails"),
                            ("odds that a repair is done over", "odds that a repair is done over"),
                            ("energy of an energised set", "energy of an energised set"),
                            ("way of writing off heater sets", "way of writing off heater sets"),
                            ("use of a heater set in a year", "use of a heater set in a year"),
                            (
                                "worth that a heater set loses in a year",
                                "worth that a heater set loses in a year",
                            ),
                            ("rubber for a litre of injury", "rubber for a litre of injury"),
                            ("trips for a repair", "trips for a repair"),
                            ("inspections of a repair", "inspections of a repair"),
                            (
                                "life after repair, for want of records",
                                "life after repair, for want of records",
                            ),
                            ("shape of the life after repair", "shape of the life after repair"),
                            ("life of a new tyre", "life of a new tyre"),
                            ("shape of the life of a new tyre", "shape of the life of a new tyre"),
                            ("tread wear", "tread wear"),
                            ("least tread left", "least tread left"),
                            ("greatest casing age", "greatest casing age"),
                            ("greatest number of repairs", "greatest number of repairs"),
                            ("spread of costs and prices", "spread of costs and prices"),
                            ("odds called clear", "odds called clear"),
                            ("lead time of a new tyre", "lead time of a new tyre"),
                            ("time that a repair takes", "time that a repair takes"),
                            ("spend that one person approves", "spend that one person approves"),
                            ("spend that two persons approve", "spend that two persons approve"),
                        ],
                        max_length=60,
                    ),
                ),
                ("value", models.DecimalField(decimal_places=6, max_digits=16)),
                ("effective_from", models.DateField()),
                ("reason", models.CharField(max_length=300)),
                ("proposed_at", models.DateTimeField(auto_now_add=True)),
                (
                    "state",
                    models.CharField(
                        choices=[("proposed", "proposed"), ("accepted", "accepted"), ("refused", "refused")],
                        default="proposed",
                        max_length=10,
                    ),
                ),
                ("decided_at", models.DateTimeField(blank=True, null=True)),
                (
                    "author",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "decided_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("name", "-effective_from", "-pk"),
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("state", "accepted")),
                        fields=("site", "name", "effective_from"),
                        name="cost_assumption_one_accepted_from_a_day",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("decided_at__isnull", True), ("state", "proposed")),
                            models.Q(("decided_at__isnull", False), ("state__in", ["accepted", "refused"])),
                            _connector="OR",
                        ),
                        name="cost_assumption_decided_when_decided",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="CostAsset",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("item", models.CharField(help_text="the heater set's code", max_length=60)),
                ("bought_on", models.DateField()),
                (
                    "first_cost",
                    models.DecimalField(
                        decimal_places=2,
                        max_digits=14,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                (
                    "salvage",
                    models.DecimalField(
                        decimal_places=2,
                        default=0,
                        help_text="worth at the end of its life",
                        max_digits=14,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                (
                    "life_years",
                    models.PositiveSmallIntegerField(
                        validators=[django.core.validators.MinValueValidator(1)]
                    ),
                ),
                (
                    "life_hours",
                    models.PositiveIntegerField(
                        help_text="[h]", validators=[django.core.validators.MinValueValidator(1)]
                    ),
                ),
                ("source", models.CharField(max_length=200)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("item",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "item"), name="cost_asset_one_for_a_set"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("first_cost__gte", models.F("salvage")),
                            ("life_hours__gte", 1),
                            ("life_years__gte", 1),
                            ("salvage__gte", 0),
                        ),
                        name="cost_asset_loses_worth",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="AuditEvent",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("sequence", models.PositiveBigIntegerField()),
                ("at", models.DateTimeField()),
                ("action", models.CharField(max_length=60)),
                ("noun", models.CharField(max_length=40)),
                ("noun_id", models.CharField(max_length=40)),
                ("what", models.CharField(max_length=300)),
                ("why", models.CharField(blank=True, max_length=300)),
                ("details", models.JSONField(default=dict)),
                ("previous_hash", models.CharField(blank=True, max_length=64)),
                ("hash", models.CharField(max_length=64)),
                (
                    "user",
                    models.ForeignKey(
                        help_text="empty: the program itself",
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("-sequence",),
                "indexes": [
                    models.Index(fields=["site", "noun", "noun_id"], name="planner_aud_site_id_6c2868_idx")
                ],
                "constraints": [
                    models.UniqueConstraint(fields=("site", "sequence"), name="audit_event_sequence_on_site"),
                    models.UniqueConstraint(
                        fields=("site", "previous_hash"), name="audit_event_one_after_another"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ApiToken",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("name", models.CharField(max_length=80)),
                ("secret_sha256", models.CharField(editable=False, max_length=64, unique=True)),
                ("actions", models.JSONField(help_text="what it may do, where its user may")),
                ("made_at", models.DateTimeField()),
                ("expires_at", models.DateTimeField()),
                ("revoked_at", models.DateTimeField(blank=True, null=True)),
                ("last_used_at", models.DateTimeField(blank=True, null=True)),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="api_tokens",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("-made_at", "-pk"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("expires_at__gt", models.F("made_at"))),
                        name="api_token_expires_after_made",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="SiteMembership",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "role",
                    models.CharField(
                        choices=[
                            ("supervisor", "supervisor"),
                            ("planner", "planner"),
                            ("accountant", "accountant"),
                            ("technician", "technician"),
                            ("administrator", "administrator"),
                        ],
                        max_length=20,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="memberships",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("site", "user"),
                "constraints": [
                    models.UniqueConstraint(fields=("user", "site"), name="membership_one_role_on_a_site"),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "role__in",
                                ["supervisor", "planner", "accountant", "technician", "administrator"],
                            )
                        ),
                        name="membership_role",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="SizeClass",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("code", models.SlugField(max_length=40)),
                ("name", models.CharField(max_length=120)),
                (
                    "smallest_rim_inch",
                    models.DecimalField(
                        decimal_places=1,
                        max_digits=4,
                        validators=[django.core.validators.MinValueValidator(1)],
                    ),
                ),
                ("largest_rim_inch", models.DecimalField(decimal_places=1, max_digits=4)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "size classes",
                "ordering": ("smallest_rim_inch",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "code"), name="size_class_code_on_site"),
                    models.CheckConstraint(
                        condition=models.Q(("largest_rim_inch__gte", models.F("smallest_rim_inch"))),
                        name="size_class_in_order",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Skill",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("code", models.SlugField(max_length=40)),
                ("name", models.CharField(max_length=120)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("code",),
                "constraints": [models.UniqueConstraint(fields=("site", "code"), name="skill_code_on_site")],
            },
        ),
        migrations.CreateModel(
            name="UserPreference",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("language", models.CharField(blank=True, max_length=10)),
                ("temperature_unit", models.CharField(blank=True, max_length=4)),
                ("pressure_unit", models.CharField(blank=True, max_length=4)),
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="preference",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("temperature_unit__in", ["", "°C", "°F"])),
                        name="preference_temperature_unit",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("pressure_unit__in", ["", "kPa", "psi", "bar"])),
                        name="preference_pressure_unit",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="KeptAnswer",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.CharField(max_length=200)),
                ("request_sha256", models.CharField(max_length=64)),
                ("made_at", models.DateTimeField(db_index=True)),
                ("status", models.PositiveSmallIntegerField(default=0)),
                ("body", models.TextField(blank=True)),
                ("headers", models.JSONField(default=dict)),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("user", "key"), name="kept_answer_key_of_user")
                ],
            },
        ),
        migrations.CreateModel(
            name="Plan",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("number", models.PositiveIntegerField(blank=True, null=True)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("draft", "draft"),
                            ("published", "published"),
                            ("superseded", "superseded"),
                            ("dropped", "dropped"),
                        ],
                        default=planner.domain.states.plan.PlanState["DRAFT"],
                        max_length=12,
                    ),
                ),
                ("horizon_start", models.DateTimeField()),
                ("horizon_end", models.DateTimeField()),
                ("problem_json", models.TextField()),
                ("plan_json", models.TextField()),
                ("problem_sha256", models.CharField(max_length=64)),
                ("verified_at", models.DateTimeField(help_text="only a plan with no breach is stored")),
                (
                    "status",
                    models.CharField(
                        choices=[
                            ("optimal", "optimal"),
                            ("feasible", "feasible"),
                            ("infeasible", "infeasible"),
                        ],
                        max_length=12,
                    ),
                ),
                ("lateness", models.BigIntegerField()),
                ("flow", models.BigIntegerField()),
                ("bound", models.BigIntegerField()),
                ("job_count", models.PositiveIntegerField()),
                ("unplanned_count", models.PositiveIntegerField()),
                (
                    "not_entered",
                    models.JSONField(
                        blank=True, default=list, help_text="work that could not enter the problem, and why"
                    ),
                ),
                ("made_at", models.DateTimeField()),
                ("published_at", models.DateTimeField(blank=True, null=True)),
                (
                    "based_on",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="planner.plan",
                    ),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "published_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "build",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="plan",
                        to="planner.planbuild",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("-made_at", "-pk"),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "number"), name="plan_number_on_site"),
                    models.UniqueConstraint(
                        condition=models.Q(("state", "published")),
                        fields=("site",),
                        name="plan_one_published_on_site",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("number__isnull", True), ("state__in", ["draft", "dropped"])),
                            models.Q(("number__isnull", False), ("state__in", ["published", "superseded"])),
                            _connector="OR",
                        ),
                        name="plan_numbered_when_published",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("state__in", ["draft", "published", "superseded", "dropped"])),
                        name="plan_state",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("status__in", ["optimal", "feasible", "infeasible"])),
                        name="plan_status",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Position",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("code", models.SlugField(max_length=40)),
                ("name", models.CharField(max_length=120)),
                (
                    "largest_size",
                    models.CharField(blank=True, help_text="empty: any size fits", max_length=24),
                ),
                ("active", models.BooleanField(default=True)),
                ("kinds", models.ManyToManyField(related_name="positions", to="planner.positionkind")),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "code"), name="position_code_on_site")
                ],
            },
        ),
        migrations.CreateModel(
            name="MaterialLot",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("code", models.CharField(max_length=60)),
                ("received_on", models.DateField()),
                ("expires_on", models.DateField()),
                (
                    "quantity",
                    models.DecimalField(
                        decimal_places=3,
                        max_digits=9,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="lots",
                        to="planner.material",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("expires_on", "pk"),
                "constraints": [
                    models.UniqueConstraint(fields=("material", "code"), name="material_lot_code"),
                    models.CheckConstraint(
                        condition=models.Q(("expires_on__gte", models.F("received_on"))),
                        name="material_lot_dates",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HeaterSetPart",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("inside_pad", "inside pad"),
                            ("outside_pad", "outside pad"),
                            ("inside_bag", "inside bag"),
                            ("outside_bag", "outside bag"),
                            ("frame", "frame"),
                        ],
                        max_length=20,
                    ),
                ),
                ("serial", models.CharField(blank=True, max_length=40)),
                (
                    "state",
                    models.CharField(
                        choices=[("fit", "fit"), ("out", "out"), ("scrapped", "scrapped")],
                        default=planner.domain.states.part.PartState["FIT"],
                        max_length=12,
                    ),
                ),
                ("inspection_due_on", models.DateField(blank=True, null=True)),
                ("note", models.CharField(blank=True, max_length=200)),
                (
                    "heater_set",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="parts",
                        to="planner.heaterset",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("heater_set", "kind"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("heater_set", "kind"), name="part_one_of_a_kind_in_a_set"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("kind__in", ["inside_pad", "outside_pad", "inside_bag", "outside_bag", "frame"])
                        ),
                        name="part_kind",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("state__in", ["fit", "out", "scrapped"])), name="part_state"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="CureChartLine",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("set_kind", models.CharField(max_length=40)),
                (
                    "thickness_mm",
                    models.DecimalField(
                        decimal_places=1,
                        max_digits=5,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(500),
                        ],
                    ),
                ),
                (
                    "timed_min",
                    models.PositiveIntegerField(
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(2880),
                        ]
                    ),
                ),
                ("source", models.CharField(help_text="the maker's chart and its edition", max_length=120)),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="chart_lines",
                        to="planner.material",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("material", "set_kind", "thickness_mm"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("material", "set_kind", "thickness_mm"), name="cure_chart_line_thickness"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="Route",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("code", models.SlugField(max_length=40)),
                ("name", models.CharField(max_length=120)),
                (
                    "zone",
                    models.CharField(
                        choices=[
                            ("crown", "crown"),
                            ("shoulder", "shoulder"),
                            ("sidewall", "sidewall"),
                            ("bead", "bead"),
                        ],
                        max_length=12,
                    ),
                ),
                ("active", models.BooleanField(default=True)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "size_class",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="routes",
                        to="planner.sizeclass",
                    ),
                ),
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "code"), name="route_code_on_site"),
                    models.UniqueConstraint(
                        condition=models.Q(("active", True)),
                        fields=("site", "zone", "size_class"),
                        name="route_one_for_zone_and_class",
                    ),
                    models.UniqueConstraint(
                        condition=models.Q(("active", True), ("size_class__isnull", True)),
                        fields=("site", "zone"),
                        name="route_one_for_zone_and_any_size",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("zone__in", ["crown", "shoulder", "sidewall", "bead"])),
                        name="route_zone",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="DamageLimit",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "zone",
                    models.CharField(
                        choices=[
                            ("crown", "crown"),
                            ("shoulder", "shoulder"),
                            ("sidewall", "sidewall"),
                            ("bead", "bead"),
                        ],
                        max_length=12,
                    ),
                ),
                ("largest_length_mm", models.PositiveIntegerField(blank=True, null=True)),
                ("largest_width_mm", models.PositiveIntegerField(blank=True, null=True)),
                ("largest_depth_mm", models.PositiveIntegerField(blank=True, null=True)),
                ("most_plies", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("most_repairs", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("source", models.CharField(help_text="the document that states it", max_length=200)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "size_class",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="limits",
                        to="planner.sizeclass",
                    ),
                ),
            ],
            options={
                "ordering": ("zone", "size_class"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("site", "zone", "size_class"), name="damage_limit_one_for_zone_and_class"
                    ),
                    models.UniqueConstraint(
                        condition=models.Q(("size_class__isnull", True)),
                        fields=("site", "zone"),
                        name="damage_limit_one_for_zone_and_any_size",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("zone__in", ["crown", "shoulder", "sidewall", "bead"])),
                        name="damage_limit_zone",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Technician",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("code", models.SlugField(max_length=40)),
                ("name", models.CharField(max_length=120)),
                ("grade", models.CharField(blank=True, max_length=40)),
                ("active", models.BooleanField(default=True)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "skills",
                    models.ManyToManyField(blank=True, related_name="technicians", to="planner.skill"),
                ),
                (
                    "user",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="technicians",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "code"), name="technician_code_on_site"),
                    models.UniqueConstraint(
                        condition=models.Q(("user__isnull", False)),
                        fields=("site", "user"),
                        name="technician_one_for_a_user_on_site",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Tyre",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("serial", models.CharField(max_length=40)),
                ("size", models.CharField(help_text="the normal form, such as 27.00R49", max_length=24)),
                ("size_as_written", models.CharField(max_length=60)),
                ("ply_rating", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("star_rating", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("tread_code", models.CharField(blank=True, help_text="such as E-4 or L-5", max_length=8)),
                ("maker", models.CharField(blank=True, max_length=60)),
                ("pattern", models.CharField(blank=True, max_length=60)),
                (
                    "tread_depth_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=1,
                        max_digits=5,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                (
                    "tread_depth_new_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=1,
                        max_digits=5,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                ("hours_run", models.PositiveIntegerField(default=0, help_text="[h]")),
                ("distance_run_km", models.PositiveIntegerField(default=0, help_text="[km]")),
                ("made_on", models.DateField(blank=True, null=True)),
                (
                    "repairs_before",
                    models.PositiveSmallIntegerField(
                        default=0, help_text="repairs before the first record here"
                    ),
                ),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("fitted", "fitted"),
                            ("off_machine", "off machine"),
                            ("quarantined", "quarantined"),
                            ("out_of_service", "out of service"),
                        ],
                        default=planner.domain.states.tyre.TyreState["OFF_MACHINE"],
                        max_length=16,
                    ),
                ),
                (
                    "machine_position",
                    models.CharField(blank=True, help_text="such as 1 or left front", max_length=20),
                ),
                (
                    "machine",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="tyres",
                        to="planner.machine",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("serial",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "serial"), name="tyre_serial_on_site"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("tread_depth_mm__isnull", True),
                            ("tread_depth_new_mm__isnull", True),
                            ("tread_depth_mm__lte", models.F("tread_depth_new_mm")),
                            _connector="OR",
                        ),
                        name="tyre_tread_at_most_as_new",
                    ),
                    models.UniqueConstraint(
                        condition=models.Q(("state", "fitted")),
                        fields=("machine", "machine_position"),
                        name="tyre_one_on_a_machine_position",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("state__in", ["fitted", "off_machine", "quarantined", "out_of_service"])
                        ),
                        name="tyre_state",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ZoneCure",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "zone",
                    models.CharField(
                        choices=[
                            ("crown", "crown"),
                            ("shoulder", "shoulder"),
                            ("sidewall", "sidewall"),
                            ("bead", "bead"),
                        ],
                        max_length=12,
                    ),
                ),
                ("set_kind", models.CharField(help_text="as in the cure chart", max_length=40)),
                (
                    "casing",
                    models.ForeignKey(
                        blank=True,
                        help_text="the figures of the casing left under a repair, where it was measured",
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="planner.material",
                    ),
                ),
                (
                    "cushion",
                    models.ForeignKey(
                        blank=True,
                        help_text="between casing and fill, where it was measured",
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="planner.material",
                    ),
                ),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.material"
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("zone",),
                "constraints": [
                    models.UniqueConstraint(fields=("site", "zone"), name="zone_cure_one_for_a_zone"),
                    models.CheckConstraint(
                        condition=models.Q(("zone__in", ["crown", "shoulder", "sidewall", "bead"])),
                        name="zone_cure_zone",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HeaterSetFit",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "zone",
                    models.CharField(
                        choices=[
                            ("crown", "crown"),
                            ("shoulder", "shoulder"),
                            ("sidewall", "sidewall"),
                            ("bead", "bead"),
                        ],
                        max_length=12,
                    ),
                ),
                ("smallest_size", models.CharField(max_length=24)),
                ("largest_size", models.CharField(max_length=24)),
                (
                    "heater_set",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="fits",
                        to="planner.heaterset",
                    ),
                ),
            ],
            options={
                "ordering": ("heater_set", "zone", "pk"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("heater_set", "zone", "smallest_size", "largest_size"),
                        name="heater_set_fit_once",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("zone__in", ["crown", "shoulder", "sidewall", "bead"])),
                        name="heater_set_fit_zone",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="LeverQuestion",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("queued", "queued"),
                            ("running", "running"),
                            ("done", "done"),
                            ("cancelled", "cancelled"),
                            ("failed", "failed"),
                        ],
                        default=planner.domain.states.plan_build.PlanBuildState["QUEUED"],
                        max_length=12,
                    ),
                ),
                ("asked_at", models.DateTimeField()),
                (
                    "seconds",
                    models.PositiveSmallIntegerField(
                        default=8,
                        help_text="for each lever",
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(120),
                        ],
                    ),
                ),
                ("cancel_requested", models.BooleanField(default=False)),
                ("baseline_json", models.TextField(blank=True)),
                (
                    "asked_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "plan",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="lever_questions",
                        to="planner.plan",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("-asked_at", "-pk"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("state__in", ["queued", "running", "done", "cancelled", "failed"])
                        ),
                        name="lever_question_state",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="PlanReplay",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "replays",
                    models.PositiveIntegerField(validators=[django.core.validators.MinValueValidator(1)]),
                ),
                (
                    "measured",
                    models.JSONField(
                        blank=True,
                        default=list,
                        help_text="names of the stages whose spread is the site's own",
                    ),
                ),
                ("replayed_at", models.DateTimeField()),
                (
                    "plan",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE, related_name="replay", to="planner.plan"
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("-replayed_at",),
            },
        ),
        migrations.CreateModel(
            name="Closure",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("starts_at", models.DateTimeField()),
                ("ends_at", models.DateTimeField()),
                ("reason", models.CharField(max_length=200)),
                (
                    "heater_set",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="closures",
                        to="planner.heaterset",
                    ),
                ),
                (
                    "position",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="closures",
                        to="planner.position",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("starts_at",),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("heater_set__isnull", False), ("position__isnull", True)),
                            models.Q(("heater_set__isnull", True), ("position__isnull", False)),
                            _connector="OR",
                        ),
                        name="closure_of_one_thing",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("ends_at__gt", models.F("starts_at"))),
                        name="closure_ends_after_it_starts",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="RouteStage",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("sequence", models.PositiveSmallIntegerField()),
                ("name", models.CharField(max_length=60)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("hands_on", "hands on"),
                            ("energised", "energised"),
                            ("pressurised", "pressurised"),
                            ("wait", "wait"),
                        ],
                        max_length=12,
                    ),
                ),
                (
                    "base_minutes",
                    models.PositiveIntegerField(validators=[django.core.validators.MaxValueValidator(20160)]),
                ),
                (
                    "minutes_per_unit",
                    models.DecimalField(
                        decimal_places=3,
                        default=0,
                        max_digits=8,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                (
                    "unit",
                    models.CharField(
                        choices=[
                            ("nothing", "nothing"),
                            ("length_cm", "length cm"),
                            ("depth_mm", "depth mm"),
                            ("area_cm2", "area cm2"),
                            ("volume_cm3", "volume cm3"),
                            ("plies", "plies"),
                        ],
                        default=planner.domain.injury.InjuryMeasure["NOTHING"],
                        max_length=12,
                    ),
                ),
                (
                    "largest_units",
                    models.PositiveIntegerField(
                        blank=True,
                        help_text="beyond this the rule is past its chart: planning warns",
                        null=True,
                    ),
                ),
                ("crew", models.PositiveSmallIntegerField(default=0)),
                ("pausable", models.BooleanField(default=False)),
                ("block", models.BooleanField(default=False, help_text="part of the heat block")),
                ("min_wait_after", models.PositiveIntegerField(default=0, help_text="[min]")),
                ("max_wait_after", models.PositiveIntegerField(blank=True, help_text="[min]", null=True)),
                (
                    "caution",
                    models.CharField(blank=True, help_text="shown where the stage is done", max_length=300),
                ),
                (
                    "place",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="planner.positionkind",
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="stages", to="planner.route"
                    ),
                ),
                (
                    "skill",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="planner.skill",
                    ),
                ),
            ],
            options={
                "ordering": ("route", "sequence"),
                "constraints": [
                    models.UniqueConstraint(fields=("route", "sequence"), name="route_stage_place"),
                    models.UniqueConstraint(fields=("route", "name"), name="route_stage_name"),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("crew__gte", 1), ("kind", "hands_on"), ("skill__isnull", False)),
                            models.Q(
                                models.Q(("kind", "hands_on"), _negated=True),
                                ("crew", 0),
                                ("pausable", False),
                                ("skill__isnull", True),
                            ),
                            _connector="OR",
                        ),
                        name="route_stage_crew_by_kind",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("max_wait_after__isnull", True),
                            ("max_wait_after__gte", models.F("min_wait_after")),
                            _connector="OR",
                        ),
                        name="route_stage_waits_in_order",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("base_minutes__gte", 1), ("minutes_per_unit__gt", 0), _connector="OR"
                        ),
                        name="route_stage_takes_time",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("kind__in", ["hands_on", "energised", "pressurised", "wait"])),
                        name="route_stage_kind",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "unit__in",
                                ["nothing", "length_cm", "depth_mm", "area_cm2", "volume_cm3", "plies"],
                            )
                        ),
                        name="route_stage_unit",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Shift",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("day", models.DateField()),
                ("starts_at", models.DateTimeField()),
                ("ends_at", models.DateTimeField()),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "technician",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="shifts",
                        to="planner.technician",
                    ),
                ),
            ],
            options={
                "ordering": ("starts_at", "technician"),
                "indexes": [
                    models.Index(fields=["site", "starts_at"], name="planner_shi_site_id_8dc3d2_idx")
                ],
                "constraints": [
                    models.UniqueConstraint(fields=("technician", "starts_at"), name="shift_once"),
                    models.CheckConstraint(
                        condition=models.Q(("ends_at__gt", models.F("starts_at"))),
                        name="shift_ends_after_it_starts",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="RosterPattern",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "recurrence",
                    models.CharField(help_text="such as FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR", max_length=200),
                ),
                ("first_day", models.DateField()),
                ("last_day", models.DateField(blank=True, null=True)),
                ("starts_at", models.TimeField(help_text="wall time at the site")),
                (
                    "ends_at",
                    models.TimeField(
                        help_text="wall time at the site; the next day where it is not after the start"
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "technician",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="patterns",
                        to="planner.technician",
                    ),
                ),
            ],
            options={
                "ordering": ("technician", "first_day"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("last_day__isnull", True),
                            ("last_day__gte", models.F("first_day")),
                            _connector="OR",
                        ),
                        name="pattern_ends_after_it_starts",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="RosterException",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("day", models.DateField()),
                ("starts_at", models.TimeField(blank=True, null=True)),
                ("ends_at", models.TimeField(blank=True, null=True)),
                ("reason", models.CharField(max_length=200)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "technician",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="exceptions",
                        to="planner.technician",
                    ),
                ),
            ],
            options={
                "ordering": ("day", "technician"),
                "constraints": [
                    models.UniqueConstraint(fields=("technician", "day"), name="roster_exception_once_a_day"),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("ends_at__isnull", True), ("starts_at__isnull", True)),
                            models.Q(("ends_at__isnull", False), ("starts_at__isnull", False)),
                            _connector="OR",
                        ),
                        name="roster_exception_both_hours_or_none",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="WorkOrder",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("number", models.PositiveIntegerField()),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("received", "received"),
                            ("to_repair", "to repair"),
                            ("on_hold", "on hold"),
                            ("in_hand", "in hand"),
                            ("repaired", "repaired"),
                            ("rejected", "rejected"),
                            ("called_off", "called off"),
                        ],
                        default=planner.domain.states.work_order.WorkOrderState["RECEIVED"],
                        max_length=12,
                    ),
                ),
                ("state_reason", models.CharField(blank=True, max_length=300)),
                (
                    "priority",
                    models.PositiveSmallIntegerField(
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(100),
                        ]
                    ),
                ),
                ("received_at", models.DateTimeField()),
                ("released_at", models.DateTimeField(help_text="no stage before this time")),
                ("needed_by", models.DateTimeField()),
                ("closed_at", models.DateTimeField(blank=True, null=True)),
                (
                    "machine",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="work_orders",
                        to="planner.machine",
                    ),
                ),
                (
                    "route",
                    models.ForeignKey(
                        blank=True,
                        help_text="empty: the site's route for the zone and size",
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="work_orders",
                        to="planner.route",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "tyre",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="work_orders",
                        to="planner.tyre",
                    ),
                ),
            ],
            options={
                "ordering": ("number",),
                "indexes": [
                    models.Index(fields=["site", "state", "needed_by"], name="planner_wor_site_id_728d7b_idx")
                ],
                "constraints": [
                    models.UniqueConstraint(fields=("site", "number"), name="work_order_number_on_site"),
                    models.CheckConstraint(
                        condition=models.Q(("priority__gte", 1), ("priority__lte", 100)),
                        name="work_order_priority_1_to_100",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("needed_by__gte", models.F("received_at"))),
                        name="work_order_needed_after_received",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "state__in",
                                [
                                    "received",
                                    "to_repair",
                                    "on_hold",
                                    "in_hand",
                                    "repaired",
                                    "rejected",
                                    "called_off",
                                ],
                            )
                        ),
                        name="work_order_state",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="CostRepair",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("month", models.DateField(blank=True, null=True)),
                ("estimate_minor", models.BigIntegerField(default=0)),
                ("actual_minor", models.BigIntegerField(default=0)),
                (
                    "avoided_minor",
                    models.BigIntegerField(default=0, help_text="price of the new tyre not bought"),
                ),
                ("failed", models.BooleanField(default=False)),
                (
                    "hours_gained",
                    models.PositiveIntegerField(default=0, help_text="expected running hours gained [h]"),
                ),
                ("estimate_lines", models.JSONField(blank=True, default=list)),
                ("actual_lines", models.JSONField(blank=True, default=list)),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "work_order",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="cost",
                        to="planner.workorder",
                    ),
                ),
            ],
            options={
                "ordering": ("work_order",),
                "indexes": [
                    models.Index(
                        fields=[
                            "site",
                            "month",
                            "failed",
                            "estimate_minor",
                            "actual_minor",
                            "avoided_minor",
                            "hours_gained",
                        ],
                        name="cost_repair_month",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="Damage",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "zone",
                    models.CharField(
                        choices=[
                            ("crown", "crown"),
                            ("shoulder", "shoulder"),
                            ("sidewall", "sidewall"),
                            ("bead", "bead"),
                        ],
                        max_length=12,
                    ),
                ),
                (
                    "length_mm",
                    models.PositiveIntegerField(
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(5000),
                        ]
                    ),
                ),
                (
                    "width_mm",
                    models.PositiveIntegerField(
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(5000),
                        ]
                    ),
                ),
                (
                    "depth_mm",
                    models.PositiveIntegerField(
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(500),
                        ]
                    ),
                ),
                (
                    "plies",
                    models.PositiveSmallIntegerField(
                        default=0, validators=[django.core.validators.MaxValueValidator(100)]
                    ),
                ),
                (
                    "source",
                    models.CharField(
                        choices=[("provisional", "provisional"), ("measured", "measured")],
                        default=planner.domain.injury.InjurySource["PROVISIONAL"],
                        max_length=12,
                    ),
                ),
                (
                    "cushion_mm",
                    models.PositiveSmallIntegerField(
                        blank=True, help_text="cushion under the fill, known after skiving [mm]", null=True
                    ),
                ),
                (
                    "casing_mm",
                    models.PositiveSmallIntegerField(
                        blank=True,
                        help_text="casing left under the repair, known after skiving [mm]",
                        null=True,
                    ),
                ),
                ("note", models.CharField(blank=True, max_length=300)),
                ("noted_at", models.DateTimeField()),
                (
                    "noted_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "material",
                    models.ForeignKey(
                        blank=True,
                        help_text="what it is filled with; empty: the site's material for the zone",
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="planner.material",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "tyre",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="damages", to="planner.tyre"
                    ),
                ),
                (
                    "work_order",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="damages",
                        to="planner.workorder",
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("depth_mm__gte", 1), ("length_mm__gte", 1), ("width_mm__gte", 1)),
                        name="damage_has_a_size",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("zone__in", ["crown", "shoulder", "sidewall", "bead"])),
                        name="damage_zone",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("source__in", ["provisional", "measured"])), name="damage_source"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="LeverTrialRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("lever", models.CharField(max_length=80)),
                ("words", models.CharField(max_length=200)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("queued", "queued"),
                            ("running", "running"),
                            ("done", "done"),
                            ("cancelled", "cancelled"),
                            ("failed", "failed"),
                        ],
                        default=planner.domain.states.plan_build.PlanBuildState["QUEUED"],
                        max_length=12,
                    ),
                ),
                ("lateness", models.BigIntegerField(blank=True, null=True)),
                ("tyres_in_time", models.PositiveIntegerField(blank=True, null=True)),
                ("lateness_gain", models.BigIntegerField(blank=True, null=True)),
                ("tyres_gain", models.IntegerField(blank=True, null=True)),
                (
                    "gap",
                    models.BigIntegerField(
                        blank=True, help_text="what its own plan may still lack", null=True
                    ),
                ),
                ("within_noise", models.BooleanField(default=False)),
                (
                    "question",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="trials",
                        to="planner.leverquestion",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("question", "pk"),
                "constraints": [
                    models.UniqueConstraint(fields=("question", "lever"), name="lever_tried_once"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("state__in", ["queued", "running", "done", "cancelled", "failed"])
                        ),
                        name="lever_trial_state",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="RecordVersion",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("number", models.PositiveIntegerField()),
                ("content", models.JSONField()),
                ("content_sha256", models.CharField(max_length=64)),
                (
                    "reason",
                    models.CharField(
                        blank=True, help_text="why it was corrected; empty in the first", max_length=300
                    ),
                ),
                ("signed_at", models.DateTimeField()),
                (
                    "signed_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "work_order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="record_versions",
                        to="planner.workorder",
                    ),
                ),
            ],
            options={
                "ordering": ("work_order", "number"),
                "constraints": [
                    models.UniqueConstraint(fields=("work_order", "number"), name="record_version_number"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("number", 1), models.Q(("reason", ""), _negated=True), _connector="OR"
                        ),
                        name="record_version_correction_has_reason",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="MaterialUse",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "quantity",
                    models.DecimalField(
                        decimal_places=3,
                        max_digits=9,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                ("used_at", models.DateTimeField()),
                (
                    "lot",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="uses",
                        to="planner.materiallot",
                    ),
                ),
                (
                    "used_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "work_order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="material_uses",
                        to="planner.workorder",
                    ),
                ),
            ],
            options={
                "ordering": ("used_at", "pk"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("quantity__gt", 0)), name="material_use_is_something"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="Inspection",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("released", models.BooleanField(help_text="no: the repair is rejected")),
                ("found", models.CharField(help_text="what was looked at and how it was", max_length=300)),
                ("inspected_at", models.DateTimeField()),
                (
                    "inspected_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "work_order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="inspections",
                        to="planner.workorder",
                    ),
                ),
            ],
            options={
                "ordering": ("inspected_at", "pk"),
            },
        ),
        migrations.CreateModel(
            name="CostUse",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("materials", "materials"),
                            ("energy", "energy"),
                            ("transport", "transport"),
                            ("inspection", "inspection"),
                        ],
                        max_length=20,
                    ),
                ),
                ("item", models.CharField(max_length=60)),
                (
                    "quantity",
                    models.DecimalField(
                        decimal_places=4,
                        max_digits=12,
                        validators=[django.core.validators.MinValueValidator(0)],
                    ),
                ),
                (
                    "evidence",
                    models.CharField(blank=True, help_text="lot number or meter reading", max_length=120),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "work_order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="cost_uses",
                        to="planner.workorder",
                    ),
                ),
            ],
            options={
                "ordering": ("work_order", "kind", "item", "pk"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("quantity__gte", 0)), name="cost_use_not_negative"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="CostApproval",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("amount_minor", models.BigIntegerField(help_text="the estimate that was approved")),
                ("approved_at", models.DateTimeField(auto_now_add=True)),
                ("note", models.CharField(blank=True, max_length=300)),
                (
                    "approver",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "work_order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="cost_approvals",
                        to="planner.workorder",
                    ),
                ),
            ],
            options={
                "ordering": ("work_order", "pk"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("work_order", "approver", "amount_minor"),
                        name="cost_approval_once_for_an_amount",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="PatternBreak",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "after_minutes",
                    models.PositiveSmallIntegerField(
                        validators=[django.core.validators.MaxValueValidator(1440)]
                    ),
                ),
                (
                    "minutes",
                    models.PositiveSmallIntegerField(
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(240),
                        ]
                    ),
                ),
                (
                    "pattern",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="breaks",
                        to="planner.rosterpattern",
                    ),
                ),
            ],
            options={
                "ordering": ("pattern", "after_minutes"),
                "constraints": [
                    models.UniqueConstraint(fields=("pattern", "after_minutes"), name="pattern_break_once"),
                    models.CheckConstraint(
                        condition=models.Q(("minutes__gte", 1)), name="pattern_break_lasts"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ShiftBreak",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("starts_at", models.DateTimeField()),
                ("ends_at", models.DateTimeField()),
                (
                    "shift",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="breaks", to="planner.shift"
                    ),
                ),
            ],
            options={
                "ordering": ("starts_at",),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("ends_at__gt", models.F("starts_at"))),
                        name="break_ends_after_it_starts",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="ReplayedJob",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("job", models.CharField(max_length=40)),
                (
                    "in_time",
                    models.FloatField(
                        help_text="share of replays ready when needed",
                        validators=[
                            django.core.validators.MinValueValidator(0.0),
                            django.core.validators.MaxValueValidator(1.0),
                        ],
                    ),
                ),
                (
                    "unattended",
                    models.FloatField(
                        help_text="share in which a cure outlasted those who could attend it",
                        validators=[
                            django.core.validators.MinValueValidator(0.0),
                            django.core.validators.MaxValueValidator(1.0),
                        ],
                    ),
                ),
                ("p50_at", models.DateTimeField(blank=True, null=True)),
                ("p90_at", models.DateTimeField(blank=True, null=True)),
                (
                    "replay",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="jobs",
                        to="planner.planreplay",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("replay", "pk"),
                "constraints": [
                    models.UniqueConstraint(fields=("replay", "job"), name="replayed_job_once"),
                    models.CheckConstraint(
                        condition=models.Q(("in_time__range", (0, 1)), ("unattended__range", (0, 1))),
                        name="replayed_job_shares",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="LoggedCure",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("file_name", models.CharField(max_length=200)),
                ("file_sha256", models.CharField(max_length=64)),
                ("file_raw", models.BinaryField()),
                ("columns", models.JSONField()),
                ("plan", models.JSONField()),
                (
                    "verdict",
                    models.CharField(
                        choices=[
                            ("within_plan", "within plan"),
                            ("needs_decision", "needs decision"),
                            ("not_enough_data", "not enough data"),
                        ],
                        max_length=20,
                    ),
                ),
                ("judgement", models.JSONField()),
                ("imported_at", models.DateTimeField()),
                (
                    "damage",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="logged_cures",
                        to="planner.damage",
                    ),
                ),
                (
                    "heater_set",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="planner.heaterset",
                    ),
                ),
                (
                    "imported_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("imported_at", "pk"),
                "constraints": [
                    models.UniqueConstraint(fields=("damage", "file_sha256"), name="logged_cure_once"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("verdict__in", ["within_plan", "needs_decision", "not_enough_data"])
                        ),
                        name="logged_cure_verdict",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="InjuryPhoto",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("words", models.CharField(max_length=120)),
                ("jpeg", models.BinaryField()),
                ("sha256", models.CharField(max_length=64)),
                ("width_px", models.PositiveIntegerField()),
                ("height_px", models.PositiveIntegerField()),
                ("added_at", models.DateTimeField()),
                (
                    "added_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "damage",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="photos",
                        to="planner.damage",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("added_at", "pk"),
                "constraints": [
                    models.UniqueConstraint(fields=("damage", "sha256"), name="injury_photo_once")
                ],
            },
        ),
        migrations.CreateModel(
            name="CureLogUpload",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("logger", models.CharField(blank=True, max_length=60)),
                ("file_name", models.CharField(max_length=200)),
                ("file_raw", models.BinaryField()),
                ("columns", models.JSONField(blank=True, null=True)),
                ("uploaded_at", models.DateTimeField()),
                (
                    "uploaded_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "damage",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="+", to="planner.damage"
                    ),
                ),
                (
                    "heater_set",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="planner.heaterset",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("uploaded_at",),
            },
        ),
        migrations.CreateModel(
            name="CostVariance",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("month", models.DateField()),
                ("cause", models.CharField(max_length=20)),
                ("amount_minor", models.BigIntegerField()),
                (
                    "repair",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="variances",
                        to="planner.costrepair",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("repair", "cause"),
                "indexes": [
                    models.Index(
                        fields=["site", "month", "cause", "amount_minor"], name="cost_variance_month"
                    )
                ],
                "constraints": [
                    models.UniqueConstraint(fields=("repair", "cause"), name="cost_variance_one_for_a_cause")
                ],
            },
        ),
        migrations.CreateModel(
            name="StageRun",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("sequence", models.PositiveSmallIntegerField(help_text="of the stage in its route")),
                ("name", models.CharField(max_length=60)),
                (
                    "state",
                    models.CharField(
                        choices=[("running", "running"), ("done", "done"), ("stopped", "stopped")],
                        default=planner.domain.states.stage_run.StageRunState["RUNNING"],
                        max_length=12,
                    ),
                ),
                ("started_at", models.DateTimeField()),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                ("note", models.CharField(blank=True, max_length=300)),
                (
                    "damage",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="stage_runs",
                        to="planner.damage",
                    ),
                ),
                (
                    "heater_set",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="planner.heaterset",
                    ),
                ),
                (
                    "plan",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="stage_runs",
                        to="planner.plan",
                    ),
                ),
                (
                    "position",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="planner.position",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "technicians",
                    models.ManyToManyField(blank=True, related_name="stage_runs", to="planner.technician"),
                ),
                (
                    "work_order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="stage_runs",
                        to="planner.workorder",
                    ),
                ),
            ],
            options={
                "ordering": ("work_order", "damage", "sequence"),
                "constraints": [
                    models.UniqueConstraint(fields=("damage", "sequence"), name="stage_run_once"),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("ended_at__isnull", True), ("state", "running")),
                            models.Q(
                                ("ended_at__gte", models.F("started_at")), ("state__in", ["done", "stopped"])
                            ),
                            _connector="OR",
                        ),
                        name="stage_run_ended_when_over",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("state__in", ["running", "done", "stopped"])),
                        name="stage_run_state",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="TyreWatch",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("signed_on_at", models.DateTimeField()),
                ("signed_off_at", models.DateTimeField(blank=True, null=True)),
                (
                    "damage",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="watches",
                        to="planner.damage",
                    ),
                ),
                (
                    "handed_to",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="watches_offered",
                        to="planner.technician",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "technician",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="watches",
                        to="planner.technician",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "tyre watches",
                "ordering": ("-signed_on_at", "-pk"),
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("signed_off_at__isnull", True)),
                        fields=("damage",),
                        name="tyre_watch_one_at_a_time",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("signed_off_at__isnull", True),
                            ("signed_off_at__gte", models.F("signed_on_at")),
                            _connector="OR",
                        ),
                        name="tyre_watch_ends_after_it_starts",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="CureDecision",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("number", models.PositiveIntegerField()),
                ("accepted", models.BooleanField()),
                ("reason", models.CharField(max_length=300)),
                ("signed_at", models.DateTimeField()),
                (
                    "signed_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "logged_cure",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="decisions",
                        to="planner.loggedcure",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
            ],
            options={
                "ordering": ("logged_cure", "number"),
                "constraints": [
                    models.UniqueConstraint(fields=("logged_cure", "number"), name="cure_decision_number")
                ],
            },
        ),
        migrations.CreateModel(
            name="CureReading",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("taken_at", models.DateTimeField()),
                ("inside_c", models.FloatField(blank=True, help_text="inside pad [°C]", null=True)),
                ("outside_c", models.FloatField(blank=True, help_text="outside pad [°C]", null=True)),
                ("pressure_kpa", models.FloatField(blank=True, help_text="the lower bag [kPa]", null=True)),
                (
                    "as_typed",
                    models.CharField(blank=True, help_text="in the units of the gauges", max_length=80),
                ),
                ("note", models.CharField(blank=True, max_length=200)),
                ("recorded_at", models.DateTimeField()),
                (
                    "corrects",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="corrected_by",
                        to="planner.curereading",
                    ),
                ),
                (
                    "recorded_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "damage",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="cure_readings",
                        to="planner.damage",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="planner.site"
                    ),
                ),
                (
                    "stage_run",
                    models.ForeignKey(
                        blank=True,
                        help_text="the stage that went on at that time",
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="planner.stagerun",
                    ),
                ),
            ],
            options={
                "ordering": ("damage", "taken_at", "pk"),
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("corrects__isnull", True)),
                        fields=("damage", "taken_at"),
                        name="cure_reading_once_at_a_time",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("inside_c__isnull", False),
                            ("outside_c__isnull", False),
                            ("pressure_kpa__isnull", False),
                            ("corrects__isnull", False),
                            _connector="OR",
                        ),
                        name="cure_reading_says_something",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("corrects__isnull", True), models.Q(("note", ""), _negated=True), _connector="OR"
                        ),
                        name="cure_reading_correction_has_reason",
                    ),
                ],
            },
        ),
    ]
