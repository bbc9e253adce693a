"""The REST API: sign-in, limits, one error shape, and its schema."""

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "api.base.sign_in.TokenSignIn",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_PARSER_CLASSES": ["api.base.bodies.Utf8JsonParser"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_SCHEMA_CLASS": "api.base.schema.SiteSchema",
    "DEFAULT_THROTTLE_CLASSES": ["api.base.throttles.UserThrottle"],
    "DEFAULT_THROTTLE_RATES": {"user": "600/min", "address": "1200/min"},
    "EXCEPTION_HANDLER": "api.base.problems.problem_response",
    # The caller's address is the one that the server or its proxy saw, never one that the caller wrote.
    "NUM_PROXIES": 0,
    "COERCE_DECIMAL_TO_STRING": True,
    "DATETIME_FORMAT": "iso-8601",
}

SPECTACULAR_SETTINGS = {
    "TITLE": "Tyrewright",
    "DESCRIPTION": (
        "Plan a mine-site tyre bay's day. Hot pads, bags under pressure, stored energy in tyres, lifting, "
        "solvents and electricity can hurt: local codes, the makers' instructions and licensed practice "
        "come before any answer given here."
    ),
    "VERSION": "1.0.0",
    "OAS_VERSION": "3.1.0",
    "SERVE_INCLUDE_SCHEMA": False,
    "SCHEMA_PATH_PREFIX": "/api/v1",
    "SWAGGER_UI_DIST": "SIDECAR",
    "SWAGGER_UI_FAVICON_HREF": "SIDECAR",
    "COMPONENT_SPLIT_REQUEST": True,
    "ENUM_NAME_OVERRIDES": {
        "ImportKindEnum": "planner.services.accounts.imports.kinds.IMPORT_KINDS",
        "GaugeTemperatureUnitEnum": "planner.domain.units.TEMPERATURE_UNITS",
        "GaugePressureUnitEnum": "planner.domain.units.PRESSURE_UNITS",
    },
    "PATH_CONVERTER_OVERRIDES": {
        "row": {"type": "integer", "minimum": 1, "maximum": 999999999},
        "month": {"type": "string", "pattern": "^20[0-9]{2}-(0[1-9]|1[0-2])$", "example": "2026-03"},
        "slug": {"type": "string", "pattern": "^[-a-zA-Z0-9_]+$"},
    },
    "POSTPROCESSING_HOOKS": [
        "drf_spectacular.hooks.postprocess_schema_enums",
        "api.base.schema.add_problem",
    ],
}
